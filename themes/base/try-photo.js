/* See your photo on it: a file chosen or dropped is shown on the piece, its crop moved and zoomed,
   and judged by the shop's own limits. Nothing is asked of a network. This device keeps the photo's
   place by design, never the photo: chosen again after a reload, it lies where it lay. */
(() => {
  const root = document.querySelector("#try");
  if (!root) return;
  const read = (id) => JSON.parse(document.querySelector(id).textContent);
  const [facts, says] = [read("#try-facts"), read("#try-says")];
  const one = (selector) => root.querySelector(selector);
  const [file, board, stage, crop] = ["#fit-file", ".fit-board", ".fit-stage canvas", ".fit-crop"].map(one);
  const say = (name, places) => says[name].replace(/\{(\w+)\}/g, (whole, place) => places[place]);
  const numbers = new Intl.NumberFormat(document.documentElement.lang, { numberingSystem: "latn" });
  const MOST = 2400; /* px of a photo's longer side that are held: more than any piece shows of it */
  const QUARTERS = Math.PI / 2;
  const KEPT = "photo-place/" + root.dataset.design;

  /* by slot: {name, width, height, plain, turn, focus, zoom, ink, shade}; `waits` while only its place
     is known, from before a reload */
  const photos = {};
  let slot = facts.slots[0][0];
  let offer = facts.offers[0];
  let cloth = offer.cloths[0];
  let seen = 0; /* quarters that the piece is turned by, never brought back to the first four */
  const loaded = new Map(); /* pictures of the page by address */

  const side = (quarters) => ((quarters % offer.views.length) + offer.views.length) % offer.views.length;
  const upright = (photo) => (photo.turn % 180 ? { width: photo.height, height: photo.width } : photo);
  const spots = (where) => offer.spots.filter((spot) => spot.slot === (where || slot));

  /* A picture that came with the page: asked for once, and drawn when it is there. */
  function picture(address) {
    if (!loaded.has(address)) {
      const image = new Image();
      loaded.set(address, null);
      image.onload = () => {
        loaded.set(address, image);
        change();
      };
      image.src = facts.root + address;
    }
    return loaded.get(address);
  }

  /* What a view is drawn from, worked out anew only where something it hangs on changed. */
  const made = new Map();
  function once(name, key, make) {
    const before = made.get(name);
    if (before && before.key.length === key.length && before.key.every((part, i) => part === key[i])) {
      return before.value;
    }
    if (before) letGo(before.value);
    const value = make();
    made.set(name, { key, value });
    return value;
  }

  /* A canvas keeps its pixels until a browser finds the time: what is drawn anew gives them back. */
  function letGo(value) {
    for (const canvas of [].concat(value)) {
      const held = Object.values(photos).some((photo) => photo.plain === canvas);
      if (canvas instanceof HTMLCanvasElement && !held) canvas.width = 0;
    }
  }

  function strip() {
    const pictures = offer.sheets.map((sheet) => {
      const at = offer.cloths.indexOf(cloth);
      return sheet.pictures.length ? picture(sheet.pictures[at]) : null;
    });
    const key = [offer, cloth, ...pictures];
    const shown = {};
    for (const [name, photo] of Object.entries(photos)) {
      if (!photo.plain) continue;
      photo.ink = once("ink " + name, [photo.plain, cloth.shade], () => fittings.inked(photo.plain, cloth));
      shown[name] = Object.assign({}, photo, upright(photo));
      key.push(photo.ink, photo.focus[0], photo.focus[1], photo.zoom);
    }
    return once("strip", key, () => {
      const flat = fittings.surface(offer, cloth, shown, pictures);
      return offer.wall ? fittings.rolledOut(flat) : [flat];
    });
  }

  /* A side of the piece; null until its light has come. */
  function still(quarter) {
    const light = picture(offer.views[quarter].planes);
    if (!light) return null;
    const without = once("bare " + quarter, [offer, cloth, light], () =>
      fittings.unprinted(offer, cloth, light, facts.ground)
    );
    const sizes = strip();
    return once("still " + quarter, [without, sizes], () =>
      fittings.side(offer, light, without, sizes, quarter * QUARTERS)
    );
  }

  function paintPiece() {
    const whole = side(Math.round(seen));
    const stills = seen % 1 ? offer.views.map((view, i) => still(i)) : [];
    if (stills.length && stills.every(Boolean)) {
      once("turning", stills, () => turntable(offer.turntable, stills, stage))(seen * QUARTERS);
    } else {
      const now = still(whole);
      if (!now) return;
      made.delete("turning"); /* it holds the canvas at its own size */
      [stage.width, stage.height] = offer.size;
      stage.getContext("2d").drawImage(now, 0, 0);
    }
    one(".fit-side-name").textContent = offer.views.length > 1 ? offer.views[whole].called : "";
    stage.setAttribute("aria-label", say("seen", { piece: offer.called, cloth: cloth.called, side: offer.views[whole].called }));
  }

  /* The whole photo, what does not show of it dim. */
  function paintCrop(photo, judged) {
    const size = upright(photo);
    const scale = Math.min(1, 720 / size.width, 960 / size.height);
    [crop.width, crop.height] = [Math.round(size.width * scale), Math.round(size.height * scale)];
    const pen = crop.getContext("2d");
    const part = [judged.crop.x, judged.crop.y, judged.crop.width, judged.crop.height].map((v) => v * scale);
    pen.drawImage(photo.plain, 0, 0, crop.width, crop.height);
    pen.fillStyle = "rgba(20,20,20,0.62)";
    pen.beginPath();
    pen.rect(0, 0, crop.width, crop.height);
    pen.rect(...part);
    pen.fill("evenodd");
    pen.strokeStyle = "#ffffff";
    pen.lineWidth = 2;
    pen.strokeRect(part[0] + 1, part[1] + 1, part[2] - 2, part[3] - 2);
    one(".fit-dashed").hidden = !inSight(judged.spot).map((seen) => dashed(pen, judged.spot, seen, part)).some(Boolean);
    one(".fit-frame").style.setProperty("--ratio", crop.width / crop.height);
    outlined(pen, judged.spot, part);
    mark(one(".fit-front"), judged.spot.front, judged.spot, part, offer.views[0].called);
    mark(one(".fit-back"), judged.spot.back, judged.spot, part, offer.views.length > 2 ? offer.views[2].called : "");
  }

  /* A light line in a dark one, so that it shows on any photo. */
  function cased(pen, ...rect) {
    for (const [colour, width] of [["#141414", 3.5], ["#ffffff", 1.5]]) {
      [pen.strokeStyle, pen.lineWidth] = [colour, width];
      pen.strokeRect(...rect);
    }
  }

  /* Lines where the front ends, and round what the design lays over the photo. */
  function outlined(pen, spot, part) {
    const [across, down] = [part[2] / spot.width, part[3] / spot.height];
    const line = (x, y, wide, high) => cased(pen, part[0] + x * across, part[1] + y * down, wide * across, high * down);
    pen.save();
    pen.fillStyle = "rgba(255,255,255,0.28)";
    for (const [x, y, wide, high] of spot.over) {
      pen.fillRect(part[0] + x * across, part[1] + y * down, wide * across, high * down);
      line(x, y, wide, high);
    }
    pen.globalAlpha = 0.7;
    for (const at of spot.front.flat()) line(at, 0, 0, spot.height);
    pen.restore();
  }

  /* Brackets along the picture's edge, and what they hold. */
  function mark(box, pieces, spot, part, called) {
    const place = (child, from, to) => {
      const share = (at) => `${((part[0] + (at / spot.width) * part[2]) / crop.width) * 100}%`;
      child.style.setProperty("--from", share(from));
      child.style.setProperty("--to", share(to));
      box.append(child);
      return child;
    };
    box.replaceChildren();
    if (!pieces.length || !called) return;
    pieces.forEach(([from, to]) => place(document.createElement("i"), from, to));
    const words = place(document.createElement("p"), pieces[0][0], pieces[pieces.length - 1][1]);
    for (const piece of pieces) words.append(Object.assign(document.createElement("span"), { textContent: called }));
  }

  /* What of a place is seen, mm from its top left. */
  function inSight(spot) {
    return spot.windows.map(({ x, y, clip, turned }) => {
      const [left, top] = turned ? [x - clip[0] - clip[2], y - clip[1] - clip[3]] : [clip[0] - x, clip[1] - y];
      return [left, top, clip[2], clip[3]];
    });
  }

  /* A dashed line round what is seen of the part; whether that is less than all of it. */
  function dashed(pen, spot, seen, part) {
    if (seen[2] > spot.width - 1 && seen[3] > spot.height - 1) return false;
    const [across, down] = [part[2] / spot.width, part[3] / spot.height];
    pen.save();
    pen.setLineDash([6, 5]);
    cased(pen, part[0] + seen[0] * across, part[1] + seen[1] * down, seen[2] * across, seen[3] * down);
    pen.restore();
    return true;
  }

  function tell(photo, judged) {
    const sentences = [says[judged.verdict]];
    if (judged.verdict !== "good") {
      const whole = fittings.judged(upright(photo), spots(), photo.focus, 1, facts);
      if (whole.verdict !== judged.verdict) sentences.push(says.show_more);
      else sentences.push(says.original);
    }
    const said = sentences.join(" ");
    if (one(".fit-sentence").textContent !== said) one(".fit-sentence").textContent = said;
    const [wide, high] = [judged.crop.width, judged.crop.height].map((v) => numbers.format(Math.floor(v + 1e-9)));
    one(".fit-used").textContent = `${wide} × ${high}`;
    one(".fit-ppi").textContent = numbers.format(Math.floor(judged.ppi + 1e-9));
  }

  const placeOf = ({ name, width, height, focus, zoom, turn }) => ({ name, width, height, focus, zoom, turn });

  /* Tell the order's form what was tried in a place, once for each change, and keep the places. */
  let announced = {};
  function announce(where) {
    const photo = photos[where];
    const { verdict } = fittings.judged(upright(photo), spots(where), photo.focus, photo.zoom, facts);
    const detail = Object.assign({ slot: where, verdict }, placeOf(photo));
    const said = JSON.stringify(detail);
    if (announced[where] === said) return;
    announced[where] = said;
    keepPlaces();
    document.dispatchEvent(new CustomEvent("photo-tried", { detail }));
  }

  /* The form forgets all it was told; photos that are left are told anew. */
  function announceLeft() {
    announced = {};
    keepPlaces();
    document.dispatchEvent(new CustomEvent("photo-tried", { detail: null }));
    Object.keys(photos).forEach(announce);
  }

  function keepPlaces() {
    const places = Object.entries(photos).map(([where, photo]) => [where, placeOf(photo)]);
    remember(KEPT, places.length ? Object.fromEntries(places) : null);
  }

  /* What was kept, as far as it can be a place. */
  function recallPlaces() {
    const share = (it) => typeof it === "number" && it >= 0 && it <= 1;
    const whole = (it) => Number.isInteger(it) && it > 0;
    for (const [where, it] of Object.entries(recall(KEPT) || {})) {
      const sound = it && whole(it.width) && whole(it.height) && Array.isArray(it.focus) && it.focus.length === 2 && it.focus.every(share);
      if (!sound || !facts.slots.some(([name]) => name === where)) continue;
      const [turn, zoom] = [[90, 180, 270].includes(it.turn) ? it.turn : 0, Math.min(Math.max(Number(it.zoom) || 1, 1), 4)];
      photos[where] = Object.assign(placeOf(it), { name: String(it.name), turn, zoom, plain: null, waits: true });
    }
  }

  function setSliders(photo, judged) {
    const size = upright(photo);
    const whole = [];
    for (const [name, at, room, why] of [
      [".fit-across", judged.crop.x, size.width - judged.crop.width, says.whole_width],
      [".fit-down", judged.crop.y, size.height - judged.crop.height, says.whole_height],
    ]) {
      const slider = one(name);
      slider.disabled = room < 1;
      if (room < 1) whole.push(why);
      slider.value = room < 1 ? 0.5 : at / room;
    }
    one(".fit-zoom").value = photo.zoom;
    one(".fit-whole").textContent = whole.join(" ");
  }

  let asked = false;
  /* All is drawn anew at the screen's next turn. */
  function change() {
    if (asked) return;
    asked = true;
    window.requestAnimationFrame(() => {
      asked = false;
      const photo = photos[slot];
      const shown = Object.values(photos).some((it) => it.plain);
      const here = photo && !photo.waits;
      board.hidden = !here && !shown;
      one(".fit-stage").hidden = !shown;
      one(".fit-verdict").hidden = !here;
      one(".fit-cut").hidden = !photo || !photo.plain;
      one(".fit-again").hidden = !photo || !photo.waits;
      one(".fit-again span").textContent = photo && photo.waits ? say("again", photo) : "";
      if (photo) {
        const judged = fittings.judged(upright(photo), spots(), photo.focus, photo.zoom, facts);
        tell(photo, judged);
        if (photo.plain) {
          setSliders(photo, judged);
          paintCrop(photo, judged);
        }
      }
      Object.keys(photos).forEach(announce);
      if (shown) paintPiece();
    });
  }

  /* The photo upright and no larger than MOST, on white as ink is; null where it cannot be shown. */
  async function decoded(chosen, size) {
    const how = { imageOrientation: "from-image", resizeQuality: "high" };
    /* of one side alone, so that it is not squeezed where a browser turns it otherwise */
    if (size.width >= size.height && size.width > MOST) how.resizeWidth = MOST;
    if (size.width < size.height && size.height > MOST) how.resizeHeight = MOST;
    const bitmap = await window.createImageBitmap(chosen, how).catch((error) => {
      if (error instanceof TypeError) return window.createImageBitmap(chosen); /* older than these */
      throw error;
    });
    const plain = drawnOn(bitmap.width, bitmap.height, (pen) => pen.drawImage(bitmap, 0, 0));
    bitmap.close();
    return plain;
  }

  function drawnOn(width, height, draw) {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [width, height];
    const pen = canvas.getContext("2d", { colorSpace: "srgb" });
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, width, height);
    draw(pen);
    return canvas;
  }

  let latest = 0;
  async function take(chosen) {
    latest += 1;
    const [turn, where] = [latest, slot]; /* of two files chosen quickly the second counts */
    one(".fit-says").textContent = says.opening;
    const size = await photoSize(chosen);
    if (turn !== latest) return;
    if (!size) {
      refuse(says.no_picture);
      return;
    }
    let plain = null;
    let fault = "";
    try {
      plain = await decoded(chosen, size);
    } catch (error) {
      const common = ["JPEG", "PNG", "WebP", "GIF"].includes(size.kind);
      fault = common || !size.width ? says.damaged : say("not_shown", size);
      if (common || !size.width) {
        if (turn === latest) refuse(fault);
        return;
      }
    }
    if (turn !== latest) return;
    one(".fit-says").textContent = fault;
    const before = photos[where];
    putOut(where);
    turns += 1;
    seen = 0; /* from the front, however the last one was left */
    photos[where] = { name: chosen.name, width: size.width, height: size.height, plain, turn: 0, focus: [0.5, 0.5], zoom: 1 };
    /* the same photo again: of as many pixels */
    if (before && before.waits && before.width === size.width && before.height === size.height) {
      for (let turned = 0; plain && turned < before.turn; turned += 90) quarterTurn(photos[where]);
      Object.assign(photos[where], { turn: before.turn, focus: before.focus, zoom: before.zoom });
    }
    change();
  }

  function refuse(why) {
    one(".fit-says").textContent = why;
    if (photos[slot] && !photos[slot].waits) putAway();
  }

  function putOut(where) {
    const photo = photos[where];
    delete photos[where];
    if (photo && photo.plain) letGo(photo.plain);
  }

  function putAway() {
    if (!photos[slot]) return;
    putOut(slot);
    announceLeft(); /* those of other places stay */
    change();
  }

  /* The crop moved so that its corner lies at (x, y), px of the upright photo. */
  function moveTo(x, y) {
    const photo = photos[slot];
    const worst = fittings.judged(upright(photo), spots(), photo.focus, photo.zoom, facts);
    photo.focus = fittings.focusAt(upright(photo), worst.spot, photo.zoom, x, y);
    change();
  }

  /* Zoomed about the middle of what shows. */
  function zoomTo(zoom) {
    const photo = photos[slot];
    const size = upright(photo);
    const before = fittings.judged(size, spots(), photo.focus, photo.zoom, facts);
    photo.zoom = Math.round(Math.min(Math.max(zoom, 1), 4) * 100) / 100;
    const after = fittings.cover(size, before.spot, photo.focus, photo.zoom);
    moveTo(before.crop.x + (before.crop.width - after.width) / 2, before.crop.y + (before.crop.height - after.height) / 2);
  }

  /* Its pixels turned clockwise. */
  function quarterTurn(photo) {
    const { width, height } = photo.plain;
    const before = photo.plain;
    photo.plain = drawnOn(height, width, (pen) => {
      pen.translate(height, 0);
      pen.rotate(QUARTERS);
      pen.drawImage(before, 0, 0);
    });
  }

  function turnPhoto() {
    const photo = photos[slot];
    quarterTurn(photo);
    photo.turn = (photo.turn + 90) % 360;
    photo.focus = [Math.round((1 - photo.focus[1]) * 1e4) / 1e4, photo.focus[0]];
    change();
  }

  function fill(select, list, chosen) {
    select.replaceChildren(...list.map(([value, label]) => new Option(label, value, false, value === chosen)));
    select.closest("label").hidden = list.length < 2;
  }

  function pickOffer(blank, colour) {
    const found = facts.offers.find((it) => it.blank === blank) || offer;
    const named = (it) => colour === it.name || colour === it.called || colour === it.shade;
    if (found !== offer) {
      offer = found;
      seen = 0;
      made.forEach((kept) => letGo(kept.value));
      made.clear();
    }
    cloth = offer.cloths.find(named) || offer.cloths.find((it) => it.name === cloth.name) || offer.cloths[0];
    fill(one(".fit-piece select"), facts.offers.map((it) => [it.blank, it.called]), offer.blank);
    fill(one(".fit-cloth select"), offer.cloths.map((it) => [it.name, it.called]), cloth.name);
    one(".fit-does").textContent = cloth.does;
    one(".turns").hidden = offer.views.length < 2;
    change();
  }

  /* Turning the piece, smoothly where motion is welcome. */
  let turns = 0;
  function turnTo(goal) {
    turns += 1;
    const [from, mine] = [seen, turns];
    const start = window.performance.now();
    const still = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
    const step = (now) => {
      if (mine !== turns) return; /* turned otherwise since */
      const share = still ? 1 : Math.min(1, (now - start) / 350);
      seen = from + (goal - from) * (1 - (1 - share) ** 3);
      if (share === 1) seen = goal;
      change();
      if (share < 1) window.requestAnimationFrame(step);
    };
    step(start);
  }

  /* One or two fingers, or a mouse, on an element: `moved` is given how far it went (px of the
     screen) and by how much two fingers parted. */
  function dragging(element, begun, moved, ended) {
    const fingers = new Map();
    const spread = () => {
      const [a, b] = [...fingers.values()];
      return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
    };
    const middle = () => {
      const all = [...fingers.values()];
      return [all.reduce((sum, f) => sum + f.x, 0) / all.length, all.reduce((sum, f) => sum + f.y, 0) / all.length];
    };
    let from = null;
    const start = () => {
      from = fingers.size ? { at: middle(), spread: spread(), state: begun() } : null;
    };
    element.addEventListener("pointerdown", (event) => {
      element.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      start();
    });
    element.addEventListener("pointermove", (event) => {
      if (!fingers.has(event.pointerId)) return;
      fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      const now = middle();
      moved(from.state, now[0] - from.at[0], now[1] - from.at[1], from.spread ? spread() / from.spread : 1);
    });
    for (const name of ["pointerup", "pointercancel"]) {
      element.addEventListener(name, (event) => {
        if (!fingers.delete(event.pointerId)) return;
        start();
        if (!fingers.size) ended();
      });
    }
  }

  dragging(
    crop,
    () => {
      const photo = photos[slot];
      const judged = fittings.judged(upright(photo), spots(), photo.focus, photo.zoom, facts);
      return { crop: judged.crop, zoom: photo.zoom };
    },
    (state, across, down, apart) => {
      if (apart !== 1) zoomTo(state.zoom * apart);
      const scale = upright(photos[slot]).width / crop.clientWidth;
      if (apart === 1) moveTo(state.crop.x + across * scale, state.crop.y + down * scale);
    },
    () => {}
  );
  dragging(
    stage,
    () => {
      turns += 1;
      return seen;
    },
    (before, across) => {
      if (offer.views.length < 2) return;
      seen = before - across / ((offer.wall.radius * stage.clientWidth) / stage.width) / QUARTERS;
      change();
    },
    () => {
      if (Math.abs(seen - Math.round(seen)) < 0.08) turnTo(Math.round(seen));
    }
  );
  crop.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      zoomTo(photos[slot].zoom * Math.exp(-event.deltaY * 0.002));
    },
    { passive: false }
  );
  for (const name of [".fit-across", ".fit-down"]) {
    one(name).addEventListener("input", () => {
      const photo = photos[slot];
      const [size, judged] = [upright(photo), fittings.judged(upright(photo), spots(), photo.focus, photo.zoom, facts)];
      const share = (which, side) => (Number(one(which).value) * (size[side] - judged.crop[side]));
      moveTo(share(".fit-across", "width"), share(".fit-down", "height"));
    });
  }
  one(".fit-zoom").addEventListener("input", () => zoomTo(Number(one(".fit-zoom").value)));
  one(".fit-turn").addEventListener("click", turnPhoto);
  for (const name of [".fit-away", ".fit-forget"]) {
    one(name).addEventListener("click", () => {
      one(".fit-says").textContent = "";
      putAway();
      file.focus();
    });
  }
  document.addEventListener("order-forgotten", () => {
    Object.keys(photos).forEach(putOut);
    one(".fit-says").textContent = "";
    announceLeft();
    change();
  });
  one(".turn-back").addEventListener("click", () => turnTo(Math.ceil(seen - 1.001)));
  one(".turn-on").addEventListener("click", () => turnTo(Math.floor(seen + 1.001)));
  /* The order form of the page follows, as this follows it. */
  const tellPiece = () => {
    const detail = { blank: offer.blank, cloth: cloth.name };
    document.dispatchEvent(new CustomEvent("piece-chosen", { detail }));
  };
  one(".fit-piece select").addEventListener("change", (event) => {
    pickOffer(event.target.value, cloth.name);
    tellPiece();
  });
  one(".fit-cloth select").addEventListener("change", (event) => {
    pickOffer(offer.blank, event.target.value);
    tellPiece();
  });
  one(".fit-slot select").addEventListener("change", (event) => {
    slot = event.target.value;
    change();
  });
  document.addEventListener("piece-chosen", (event) => pickOffer(event.detail.blank, event.detail.cloth));
  file.addEventListener("change", () => {
    const chosen = file.files[0];
    file.value = ""; /* so that the same may be chosen again, for another place */
    if (chosen) take(chosen);
  });
  root.addEventListener("dragover", (event) => {
    event.preventDefault();
    root.classList.add("fit-over");
  });
  root.addEventListener("dragleave", () => root.classList.remove("fit-over"));
  root.addEventListener("drop", (event) => {
    event.preventDefault();
    root.classList.remove("fit-over");
    if (event.dataTransfer.files.length) take(event.dataTransfer.files[0]);
  });
  recallPlaces();
  fill(one(".fit-slot select"), facts.slots, slot);
  pickOffer(offer.blank, cloth.name);
  root.hidden = false;
})();
