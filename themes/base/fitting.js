/* A photo laid on a piece: which part of it shows, how many pixels an inch gets, and how it looks.
   The numbers are those of the page (catalogue/fitting.py), the rules those of the workroom. No
   pixel of a picture that came with the page is read back: a page on a disk may not do that. */
const fittings = (() => {
  const INCH = 25.4; /* mm */

  /* The part of a photo (px, upright) that covers a place (mm): geometry/crop.py, step by step. */
  function cover(photo, spot, focus, zoom) {
    const scale = Math.max(spot.width / photo.width, spot.height / photo.height) * Math.max(zoom, 1);
    const width = Math.min(spot.width / scale, photo.width);
    const height = Math.min(spot.height / scale, photo.height);
    const x = focus[0] * photo.width - spot.aim[0] / scale;
    const y = focus[1] * photo.height - spot.aim[1] / scale;
    return {
      x: Math.min(Math.max(x, 0), photo.width - width),
      y: Math.min(Math.max(y, 0), photo.height - height),
      width,
      height,
    };
  }

  /* Pixels an inch, in the worse direction. */
  function ppiOf(crop, spot) {
    return Math.min((crop.width * INCH) / spot.width, (crop.height * INCH) / spot.height);
  }

  /* What so many are by the shop's limits; a limit that is met is met. */
  function verdictOf(ppi, limits) {
    if (ppi >= limits.good_ppi) return "good";
    return ppi >= limits.floor_ppi ? "soft" : "coarse";
  }

  /* The coarsest of the places where a photo shows: crop, ppi and verdict. */
  function judged(photo, spots, focus, zoom, limits) {
    const all = spots.map((spot) => {
      const crop = cover(photo, spot, focus, zoom);
      return { spot, crop, ppi: ppiOf(crop, spot) };
    });
    const worst = all.reduce((least, one) => (one.ppi < least.ppi ? one : least));
    return Object.assign(worst, { verdict: verdictOf(worst.ppi, limits) });
  }

  /* The focus that brings a part's corner to (x, y), px: as choose_focus tells it. */
  function focusAt(photo, spot, zoom, x, y) {
    const crop = cover(photo, spot, [0.5, 0.5], zoom);
    const inside = (value, most) => Math.min(Math.max(value, 0), most);
    const share = (at, side, aim, slot, whole) => Math.round(((at + (aim / slot) * side) / whole) * 1e4) / 1e4;
    return [
      share(inside(x, photo.width - crop.width), crop.width, spot.aim[0], spot.width, photo.width),
      share(inside(y, photo.height - crop.height), crop.height, spot.aim[1], spot.height, photo.height),
    ];
  }

  function sheet(width, height, how) {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [width, height];
    const pen = canvas.getContext("2d", how);
    pen.imageSmoothingQuality = "high";
    return pen;
  }

  /* One to draw on for a moment, and then again. */
  const scratch = {};
  function moment(name, width, height) {
    const pen = scratch[name] || (scratch[name] = sheet(width, height));
    [pen.canvas.width, pen.canvas.height] = [width, height];
    pen.imageSmoothingQuality = "high";
    return pen;
  }

  const LIGHT = Array.from({ length: 256 }, (nothing, code) => {
    const v = code / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  const STEPS = 4095; /* of the root of light: a code is off by one at most */
  const CODES = Uint8ClampedArray.from({ length: STEPS + 1 }, (nothing, step) => {
    const light = (step / STEPS) ** 2;
    return 255 * (light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055);
  });
  const code = (light) => CODES[Math.round(Math.sqrt(Math.min(Math.max(light, 0), 1)) * STEPS)];

  /* Ink as it looks on a cloth (colour/fabric.py), in place; `shade` is the cloth's own code. */
  function onCloth(pixels, law, shade) {
    const m = law.matrix;
    const roots = law.inks.length ? law.inks : null;
    const covers = [0, 1, 2].map((i) => LIGHT.map((light) => (roots ? (1 - Math.sqrt(light)) ** law.curves[i] : light)));
    const mixed = [0, 0, 0];
    for (let i = 0; i < pixels.length; i += 4) {
      const [a, b, c] = [covers[0][pixels[i]], covers[1][pixels[i + 1]], covers[2][pixels[i + 2]]];
      if (pixels[i] === 255 && pixels[i + 1] === 255 && pixels[i + 2] === 255) {
        [pixels[i], pixels[i + 1], pixels[i + 2]] = shade;
        continue;
      }
      if (roots) {
        mixed.fill(0);
        for (let ink = 0; ink < 8; ink += 1) {
          const share = (ink & 4 ? a : 1 - a) * (ink & 2 ? b : 1 - b) * (ink & 1 ? c : 1 - c);
          for (let k = 0; k < 3; k += 1) mixed[k] += share * roots[3 * ink + k];
        }
        for (let k = 0; k < 3; k += 1) mixed[k] *= mixed[k];
      } else [mixed[0], mixed[1], mixed[2]] = [a, b, c];
      const [x, y, z] = mixed;
      pixels[i] = code(m[0] * x + m[1] * y + m[2] * z);
      pixels[i + 1] = code(m[3] * x + m[4] * y + m[5] * z);
      pixels[i + 2] = code(m[6] * x + m[7] * y + m[8] * z);
    }
  }

  /* A photo's canvas as the same ink on a cloth. */
  function inked(photo, cloth) {
    if (!cloth.law.matrix.length) return photo;
    const pen = sheet(photo.width, photo.height);
    const shade = [1, 3, 5].map((at) => parseInt(cloth.shade.slice(at, at + 2), 16));
    /* in bands, so that no second copy of the whole is held */
    const part = sheet(photo.width, 256, { willReadFrequently: true });
    for (let top = 0; top < photo.height; top += 256) {
      const high = Math.min(256, photo.height - top);
      part.drawImage(photo, 0, -top);
      const band = part.getImageData(0, 0, photo.width, high);
      onCloth(band.data, cloth.law, shade);
      pen.putImageData(band, 0, top);
    }
    return pen.canvas;
  }

  /* What is seen of a piece, flat. `photos` are by slot {ink: canvas, width, height (upright px),
     focus, zoom}; `pictures` those of the design's sheets. */
  function surface(offer, cloth, photos, pictures) {
    const pen = sheet(offer.strip[0], offer.strip[1]);
    const [across, down] = [offer.strip[0] / offer.surface[0], offer.strip[1] / offer.surface[1]];
    const whole = [0, 0, offer.surface[0], offer.surface[1]];
    pen.scale(across, down); /* mm */
    pen.fillStyle = cloth.shade;
    pen.fillRect(...whole);
    offer.sheets.forEach((one, i) => {
      if (one.spot === null) {
        if (pictures[i]) pen.drawImage(pictures[i], ...whole);
        return;
      }
      const spot = offer.spots[one.spot];
      const photo = photos[spot.slot];
      if (!photo) return;
      const crop = cover(photo, spot, photo.focus, photo.zoom);
      const [x, y] = [photo.ink.width / photo.width, photo.ink.height / photo.height];
      for (const seen of spot.windows) {
        pen.save();
        pen.beginPath();
        pen.rect(...seen.clip);
        pen.clip();
        pen.translate(seen.x, seen.y);
        if (seen.turned) pen.rotate(Math.PI);
        pen.drawImage(photo.ink, crop.x * x, crop.y * y, crop.width * x, crop.height * y, 0, 0, spot.width, spot.height);
        pen.restore();
      }
    });
    offer.bare.forEach((gap) => pen.fillRect(...gap));
    return pen.canvas;
  }

  const ROOM = 64; /* px round a strip: its ends meet, and rolled edges show its first and last row */

  /* The strip with what lies beyond its edges, and half of it and half of that as wide: where the
     cloth turns away many columns become one. */
  function rolledOut(strip) {
    const [wide, high] = [strip.width + ROOM, strip.height + 2 * ROOM];
    const pen = sheet(wide, high);
    pen.drawImage(strip, 0, ROOM);
    pen.drawImage(strip, 0, 0, ROOM, strip.height, strip.width, ROOM, ROOM, strip.height);
    pen.drawImage(pen.canvas, 0, ROOM, wide, 1, 0, 0, wide, ROOM);
    pen.drawImage(pen.canvas, 0, high - ROOM - 1, wide, 1, 0, high - ROOM, wide, ROOM);
    const sizes = [pen.canvas];
    for (let w = wide / 2; sizes.length < 5; w /= 2) {
      const half = sheet(Math.round(w), high);
      half.drawImage(sizes[sizes.length - 1], 0, 0, Math.round(w), high);
      sizes.push(half.canvas);
    }
    return sizes;
  }

  const smooth = (low, high, value) => {
    const share = Math.min(Math.max((value - low) / (high - low), 0), 1);
    return share * share * (3 - 2 * share);
  };

  function bumpAt(wall, way) {
    const at = (((way / (2 * Math.PI)) % 1) + 1) % 1 * wall.bump.length;
    const low = Math.floor(at);
    const [a, b] = [wall.bump[low % wall.bump.length], wall.bump[(low + 1) % wall.bump.length]];
    return a + (b - a) * (at - low);
  }

  /* The strip's columns on a view that is turned by `turn` from the front. */
  function wrapped(pen, offer, sizes, turn) {
    const wall = offer.wall;
    const middle = offer.size[0] / 2;
    const around = offer.strip[0];
    const stretch = wall.tall / offer.strip[1];
    const angle = (x) => Math.asin(Math.min(1, Math.max(-1, (x - middle) / wall.radius)));
    const last = Math.ceil(middle + wall.radius);
    for (let x = Math.floor(middle - wall.radius); x < last; x += 1) {
      const share = offer.front + (turn + angle(x)) / (2 * Math.PI);
      const from = (((share % 1) + 1) % 1) * around;
      const across = Math.max(((angle(x + 1) - angle(x)) / (2 * Math.PI)) * around, 0.05);
      const size = Math.min(sizes.length - 1, Math.max(0, Math.round(Math.log2(across))));
      const picture = sizes[size];
      const scale = picture.width / sizes[0].width;
      const seen = angle(x + 0.5);
      const cosine = Math.cos(seen);
      let top = wall.rise + wall.radius * cosine * wall.sin;
      if (wall.bump.length) top += bumpAt(wall, turn + seen) * cosine * smooth(0.12, 0.6, cosine);
      pen.drawImage(picture, from * scale, 0, across * scale, picture.height, x, top - ROOM * stretch, 1, picture.height * stretch);
    }
  }

  function lying(pen, offer, strip) {
    const [wide, high] = offer.surface;
    pen.save();
    pen.setTransform(...offer.lies);
    pen.drawImage(strip, -1, -1, wide + 2, high + 2); /* for pixels that are half on its edge */
    pen.drawImage(strip, 0, 0, wide, high);
    pen.restore();
  }

  const PLANES = { ink: 0, bare: 1, ground: 2, metal: 3 };
  const METAL = "rgb(255,254,251)";

  /* A plane of a view's light in a colour, or over what is drawn already. */
  function plane(pen, offer, planes, name, how) {
    const [wide, high] = offer.size;
    pen.globalCompositeOperation = how;
    pen.drawImage(planes, 0, PLANES[name] * high, wide, high, 0, 0, wide, high);
    pen.globalCompositeOperation = "source-over";
  }

  /* The piece without its print: bare cloth, ground and metal. */
  function unprinted(offer, cloth, planes, ground) {
    const [wide, high] = offer.size;
    const [whole, part] = [sheet(wide, high), moment("part", wide, high)];
    whole.fillRect(0, 0, wide, high);
    for (const [name, colour] of [["bare", cloth.shade], ["ground", ground], ["metal", METAL]]) {
      plane(part, offer, planes, name, "source-over");
      part.globalCompositeOperation = "multiply";
      part.fillStyle = colour;
      part.fillRect(0, 0, wide, high);
      part.globalCompositeOperation = "source-over";
      whole.globalCompositeOperation = "lighter";
      whole.drawImage(part.canvas, 0, 0);
    }
    return whole.canvas;
  }

  /* A side of the piece with its print: what views/hand/picture.py makes of the same shares. */
  function side(offer, planes, without, sizes, turn) {
    const [wide, high] = offer.size;
    const print = moment("print", wide, high);
    print.fillRect(0, 0, wide, high);
    if (offer.wall) wrapped(print, offer, sizes, turn);
    else lying(print, offer, sizes[0]);
    plane(print, offer, planes, "ink", "multiply");
    const seen = sheet(wide, high);
    seen.drawImage(without, 0, 0);
    seen.globalCompositeOperation = "lighter";
    seen.drawImage(print.canvas, 0, 0);
    return seen.canvas;
  }

  return { cover, ppiOf, verdictOf, judged, focusAt, onCloth, inked, surface, rolledOut, unprinted, side };
})();
