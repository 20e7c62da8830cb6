/* The order slip of a design's page: from what is typed to a slip, and from the slip to mail,
   clipboard or file. Nothing is sent, and nothing of it is signed: a wish. What was typed is kept on
   this device alone, by design, so that a reload loses nothing; of a photo its place is, by
   try-photo.js, and never the photo. */
"use strict";

(() => {
  const one = (selector, root) => (root || document).querySelector(selector);
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const read = (id) => JSON.parse(one("#order-" + id).textContent);
  const facts = read("facts");
  const says = read("says");
  const form = one("#order-form");
  const result = one("#order-result");
  const text = one("#order-text");
  const slots = all(".slot", form);
  const MOST_NAMED = 12; /* letters; of a whole text in another alphabet these are enough */
  const tried = {}; /* by slot, as the page's other half told it */
  const asked = new Set(); /* what was asked about once; pressed again, it is meant so */
  let last = ["", ""]; /* what was put together last, and when: the same again is the same slip */

  const blank = () => facts.blanks.find((it) => it.id === form.elements.blank.value);
  const cloth = () => form.elements.cloth.value;
  const named = (slot) => facts.labels[slot];

  /* -- words: the same on every piece, or one a line ------------------------------------- */

  const field = (slot) => one("textarea", slot);
  const isList = (slot) => one("input", slot).checked;

  /* The lines of a list; empty ones at its ends say nothing, nor, where it stands alone, between. */
  function linesOf(slot) {
    const lines = field(slot).value.split(/\r\n?|\n/).map((line) => wellFormed(line).trim());
    while (lines.length && !lines[lines.length - 1]) lines.pop();
    while (lines.length && !lines[0]) lines.shift();
    return slots.filter(isList).length > 1 ? lines : lines.filter(Boolean);
  }

  function showList(slot, on) {
    one("input", slot).checked = on;
    one(".hint", slot).hidden = !on;
    field(slot).rows = on ? 6 : Number(field(slot).dataset.rows);
    grow(field(slot));
    counted();
  }

  const letterings = facts.letters.fonts.map(lettersIn);

  /* Letters that the design's lettering lacks: said at once, and the order may go all the same. */
  function showLetters(slot) {
    const fonts = facts.letters.slots[slot.dataset.slot] || [];
    const lost = fonts.flatMap((font) => lettersMissing(wellFormed(field(slot).value), letterings[font]));
    const named = Array.from(new Set(lost)).slice(0, MOST_NAMED).map((it) => "\u2068" + it + "\u2069").join(" ");
    one(".letters", slot).textContent = lost.length ? fill(says.letters, { letters: named }) : "";
  }

  /* A pasted column is a list; columns beside it go to the places that follow. */
  function pasted(event, slot) {
    const given = (event.clipboardData ? event.clipboardData.getData("text") : "").replace(/[\r\n]+$/, "");
    const rows = given.split(/\r\n?|\n/);
    const columns = rows[0].split("\t").length;
    const room = slots.slice(slots.indexOf(slot), slots.indexOf(slot) + columns);
    if (rows.length <= Number(field(slot).dataset.rows) || (columns > 1 && room.length < columns)) return;
    if (columns === 1 && isList(slot)) return;
    event.preventDefault();
    room.forEach((each, i) => {
      field(each).value = rows.map((row) => row.split("\t")[i] || "").join("\n");
      showList(each, true);
    });
    changed();
    keep();
  }

  /* -- how many, and what it costs -------------------------------------------------------- */

  const lists = () => slots.filter(isList).map(linesOf);

  function many() {
    const given = lists();
    if (given.length) return Math.max(...given.map((lines) => lines.length));
    const typed = form.elements.many.value.trim();
    return /^\d{1,7}$/.test(typed) ? Number(typed) : 0;
  }

  function counted() {
    const input = form.elements.many;
    const listed = lists().length > 0;
    if (listed) input.value = many() || "";
    input.readOnly = listed;
    one("#order-counted").textContent = listed ? says.counted : "";
  }

  /* Hundredths of the currency's unit, which the tool's prices are whole in. */
  const hundredths = (price) => Math.round(Number(price) * 100);

  /* As Babel writes it; halves go to the even side. */
  function money(amount) {
    const { before, after, group, point, places } = facts.money;
    let units = amount * 10 ** Math.max(0, places - 2);
    if (places < 2) {
      const by = 10 ** (2 - places);
      const [whole, rest] = [Math.floor(amount / by), amount % by];
      units = whole + (rest * 2 > by || (rest * 2 === by && whole % 2) ? 1 : 0);
    }
    const digits = String(units).padStart(places + 1, "0");
    const whole = digits.slice(0, digits.length - places).replace(/\B(?=(\d{3})+$)/g, group);
    return before + whole + (places ? point + digits.slice(-places) : "") + after;
  }

  /* The price of one of so many; undefined below the least number. */
  function priceOf(of, count) {
    const step = of.prices.filter(([from]) => from <= count).pop();
    return step && step[1];
  }

  function showPrice() {
    const [count, of] = [many(), blank()];
    const price = priceOf(of, count);
    const next = of.prices.find(([from]) => from > count);
    const parts = [];
    if (count && price === undefined) parts.push(fill(says.least, { n: of.prices[0][0] }));
    if (price !== undefined) {
      const [each, sum] = [money(hundredths(price)), money(hundredths(price) * count)];
      parts.push(count > 1 ? fill(says.price, { n: count, one: each, sum }) : sum);
      if (next) parts.push(fill(says.next_price, { n: next[0], one: money(hundredths(next[1])) }));
    }
    one("#order-price").textContent = parts.join(" · ");
  }

  /* By when to order for a day; one that is nearer than the shop's usual ones may still be met. */
  function showDay() {
    const day = form.elements.due.value;
    let told = "";
    if (day && day >= inDays(facts.days)) told = fill(says.can_be_met, { day: said(day), last: said(inDays(-facts.days, day)) });
    else if (day && day >= inDays(0)) told = fill(says.near, { n: facts.days });
    else if (day > "1000") told = says.past; // of an earlier one the year is still being typed
    one("#order-day").textContent = told;
  }

  const said = (day) => dayIn(day, facts.dates);

  /* -- the piece and its cloth ------------------------------------------------------------ */

  function showCloths(wanted) {
    const before = wanted || (form.elements.cloth ? cloth() : "");
    const holder = one("#order-cloths .cloths");
    holder.textContent = "";
    blank().cloths.forEach(([id, name, shade], i) => {
      const label = one("#order-shade").content.cloneNode(true).firstElementChild;
      const input = one("input", label);
      input.value = id;
      input.checked = id === before || i === 0;
      one("circle", label).setAttribute("fill", shade);
      one("bdi", label).textContent = name;
      holder.append(label);
    });
    one("#order-cloths").hidden = false;
  }

  const showCloth = () => {
    one("#order-suits").textContent = blank().told[cloth()] || "";
  };

  function tellPiece() {
    const detail = { blank: blank().id, cloth: cloth() };
    document.dispatchEvent(new CustomEvent("piece-chosen", { detail }));
  }

  const isCoarse = (slot) => Boolean(tried[slot]) && tried[slot].verdict === "coarse";

  function showTried() {
    const names = facts.photos.filter((slot) => tried[slot]).map((slot) => tried[slot].name);
    const line = one("#order-photo");
    if (!line) return;
    line.textContent = names.length ? fill(says.tried, { name: names.join(", ") }) : says.tried_none;
    const coarse = facts.photos.filter(isCoarse).map((slot) => tried[slot].name);
    one("#order-coarse").textContent = coarse.length ? fill(says.coarse, { name: coarse.join(", ") }) : "";
  }

  /* -- the slip --------------------------------------------------------------------------- */

  const round = (share) => Math.round(share * 10000) / 10000;

  function photosTried() {
    const given = facts.photos.filter((slot) => tried[slot]).map((slot) => {
      const { name, width, height, focus, zoom, turn } = tried[slot];
      return [slot, { name: limited(String(name), facts.most.text), width, height, focus: focus.map(round), zoom: round(zoom), turn: turn || 0 }];
    });
    return Object.fromEntries(given);
  }

  function filledIn() {
    const price = priceOf(blank(), many());
    const given = (name) => limited(form.elements[name].value, facts.most.text);
    const ticked = (name) => Boolean(form.elements[name] && form.elements[name].checked) || null;
    const pairs = (those, value) => {
      const made = those.map((slot) => [slot.dataset.slot, value(slot)]).filter(([, it]) => it.length);
      return made.length ? Object.fromEntries(made) : null;
    };
    const photos = photosTried();
    return withoutEmpty({
      v: 1,
      design: facts.design,
      blank: blank().id,
      cloth: cloth(),
      many: many(),
      words: pairs(slots.filter((slot) => !isList(slot)), (slot) => wellFormed(field(slot).value.replace(/\r\n?/g, "\n")).trim()),
      lists: pairs(slots.filter(isList), linesOf),
      photos: Object.keys(photos).length ? photos : null,
      price,
      currency: price === undefined ? "" : facts.currency,
      due: form.elements.due.value,
      language: form.elements.language.value,
      print: ticked("print"),
      show: ticked("show"),
      name: given("name"),
      mail: given("mail"),
      note: limited(form.elements.note.value.replace(/\r\n?/g, "\n"), facts.most.note),
    });
  }

  function wrongList(slot) {
    const lines = linesOf(slot);
    const other = slots.filter(isList).map(linesOf).find((it) => it.length !== lines.length);
    if (lines.length > facts.most.rows) return fill(says.too_many, { n: facts.most.rows });
    if (lines.includes("")) return fill(says.gap, { n: lines.indexOf("") + 1 });
    return other && fill(says.uneven, { a: lines.length, b: other.length });
  }

  /* As many lines as pieces, or more than the design has, look like a list that was not ticked. */
  function meantForEach(slot) {
    const lines = linesOf(slot).length;
    const many = Number(form.elements.many.value);
    const key = slots.indexOf(slot) + " " + many + " " + field(slot).value;
    if (lines < 2 || many < 2 || (lines < many && lines <= Number(field(slot).dataset.rows)) || asked.has(key)) return "";
    asked.add(key);
    return fill(says.each_line, { n: lines, many });
  }

  /* What is still missing: a sentence and the field it speaks of. */
  function missing() {
    for (const slot of slots) {
      const lines = isList(slot) ? linesOf(slot) : [field(slot).value.trim()];
      if (!lines.some(Boolean)) return [says.no_words, field(slot)];
      if (lines.some((line) => line.length > facts.most.text)) return [fill(says.too_long, { n: facts.most.text }), field(slot)];
      const wrong = isList(slot) ? wrongList(slot) : meantForEach(slot);
      if (wrong) return [wrong, field(slot)];
    }
    const count = many();
    if (!count || count > facts.most.pieces) return [fill(says.how_many, { n: facts.most.pieces }), form.elements.many];
    if (priceOf(blank(), count) === undefined) return [fill(says.least, { n: blank().prices[0][0] }), form.elements.many];
    const due = form.elements.due;
    if (due.value && due.value < inDays(0)) return [says.past, due];
    if (!form.elements.name.value.trim()) return [says.your_name, form.elements.name];
    if (!/^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(form.elements.mail.value.trim())) return [says.your_mail, form.elements.mail];
    return null;
  }

  /* The day so many days from today or another, as a field of a date has it. */
  function inDays(days, from) {
    const now = from ? new Date(from + "T12:00") : new Date();
    now.setDate(now.getDate() + days);
    const two = (n) => String(n).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  /* The lines of the readable part. `brief` is for a mail with little room: it leaves out what the
     mail's own subject and the letters of code say, and never what is pressed or what it costs. */
  function toldLines(filled, brief) {
    const words = facts.slip;
    const lines = [];
    const tell = (...texts) => lines.push(...texts);
    const fully = (...texts) => brief || lines.push(...texts);
    const called = blank().cloths.find(([id]) => id === filled.cloth)[1];
    const each = hundredths(filled.price);
    fully(words.greeting, "");
    tell(fill(words.line, { many: filled.many, blank: blank().name, cloth: called }));
    for (const [slot, said] of Object.entries(filled.words || {})) tell(fill(words.slot, { label: named(slot), text: said }));
    for (const [slot, said] of Object.entries(filled.lists || {})) {
      tell(fill(words.list, { label: named(slot), n: said.length }));
      tell(...said.map((it) => (brief ? "" : "  ") + it));
    }
    for (const [slot, it] of Object.entries(filled.photos || {})) {
      tell(fill(words.photo, it));
      if (isCoarse(slot)) tell(words.coarse);
    }
    if (facts.photos.length && !filled.photos) tell(words.photo_apart);
    tell(fill(words.price, { one: money(each), sum: money(each * filled.many) }));
    if (filled.due) tell(fill(words.due, { day: dayIn(filled.due, facts.dates) }));
    for (const key of ["print", "show"]) if (filled[key]) fully(words[key]);
    tell(fill(words.name, filled));
    fully(fill(words.mail, filled)); /* which a mail says by itself */
    const chosen = one("option:checked", form.elements.language);
    if (filled.language !== facts.language.split("-")[0]) tell(fill(words.language, { language: chosen.textContent }));
    if (filled.note) tell(fill(words.note, filled));
    return lines;
  }

  /* Not words that read as a mark of a block: they would hide the block itself. */
  const canBeTold = (said) => !/(begin|end)[a-z]{0,12}(answer|order)[a-z]{0,12}code/.test(said.normalize("NFKC").toLowerCase().replace(/[^a-z]/g, ""));

  async function coded(filled) {
    const plain = canonical(filled);
    if (last[0] !== plain) last = [plain, new Date().toISOString().slice(0, 19) + "Z"];
    const bytes = new TextEncoder().encode(canonical({ ...filled, time: last[1] }));
    return block("ORDER", joined(await packed(bytes), sha256(bytes).slice(0, 8)));
  }

  async function offer(filled) {
    const words = facts.slip;
    const title = fill(words.title, { design: facts.title });
    const [whole, brief] = [false, true].map((it) => toldLines(filled, it).join("\n"));
    const code = (await coded(filled)) + "\n";
    const told = canBeTold(whole);
    text.value = [title, "", ...(told ? [whole, ""] : []), words.leave, code].join("\n");
    const mails = [text.value, ...(told ? [[brief, "", words.keep, code].join("\n")] : [])];
    showWays("order", facts.mail, title, mails, words.paste);
    one("#order-said").textContent = "";
    if (form.elements.print) one("#order-unsaid").hidden = Boolean(filled.print);
    result.hidden = false;
    grow(text, Infinity);
    one("#order-heading").focus();
  }

  /* -- what this device keeps of it ------------------------------------------------------- */

  const kept = "order-draft/" + facts.design;
  const KEPT = ["many", "due", "name", "mail", "language", "note"];
  const TICKED = ["print", "show"];

  function keep() {
    const values = Object.fromEntries(KEPT.map((name) => [name, form.elements[name].value]));
    const ticks = TICKED.filter((name) => form.elements[name] && form.elements[name].checked);
    const words = Object.fromEntries(slots.map((slot) => [slot.dataset.slot, [field(slot).value, isList(slot)]]));
    const said = { blank: blank().id, cloth: cloth(), values, ticks, words };
    one("#order-kept").hidden = !remember(kept, said);
  }

  /* What was typed before, as far as the form still asks for it. */
  function fillIn() {
    const said = recall(kept);
    if (!said || !said.values || !said.words) return;
    if (facts.blanks.some((it) => it.id === said.blank)) form.elements.blank.value = said.blank;
    showCloths(said.cloth);
    KEPT.forEach((name) => {
      const given = said.values[name];
      const choices = all("option", form.elements[name]);
      if (given && (!choices.length || choices.some((it) => it.value === given))) form.elements[name].value = given;
    });
    TICKED.forEach((name) => {
      if (form.elements[name]) form.elements[name].checked = (said.ticks || []).includes(name);
    });
    slots.forEach((slot) => {
      const [typed, list] = said.words[slot.dataset.slot] || ["", false];
      field(slot).value = typed;
      if (list) showList(slot, true);
    });
    one("#order-kept").hidden = false;
  }

  function forget() {
    remember(kept, null);
    document.dispatchEvent(new CustomEvent("order-forgotten"));
    form.reset();
    slots.forEach((slot) => showList(slot, false));
    showCloths();
    complain(null);
    changed();
    tellPiece();
    one("#order-kept").hidden = true;
    form.elements.blank.focus();
  }

  function complain(problem) {
    all("[aria-invalid]", form).forEach((it) => it.removeAttribute("aria-invalid"));
    one("#order-trouble").textContent = problem ? problem[0] : "";
    if (!problem) return;
    problem[1].closest(".slot, .pair, p").after(one("#order-trouble")); /* seen with its field */
    problem[1].setAttribute("aria-invalid", "true");
    problem[1].focus();
  }

  /* A slip never says other than what stands in the form. */
  function changed() {
    result.hidden = true;
    const told = one("#order-trouble").textContent;
    const problem = told && missing();
    const isSame = problem && problem[0] === told && problem[1].matches("[aria-invalid]");
    if (told && !isSame) complain(null);
    counted();
    showPrice();
    showDay();
    showCloth();
    slots.forEach(showLetters);
  }

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const problem = missing();
    complain(problem);
    result.hidden = true;
    if (!problem) offer(filledIn());
  });
  form.addEventListener("input", changed);
  ["input", "change"].forEach((happens) => form.addEventListener(happens, keep));
  one("#order-forget").addEventListener("click", forget);
  form.elements.blank.addEventListener("change", () => {
    showCloths();
    changed();
    tellPiece();
  });
  one("#order-cloths").addEventListener("change", tellPiece);
  slots.forEach((slot) => {
    one("input", slot).addEventListener("change", (event) => showList(slot, event.target.checked));
    field(slot).addEventListener("paste", (event) => pasted(event, slot));
  });
  document.addEventListener("piece-chosen", ({ detail }) => {
    if (detail.blank === blank().id && detail.cloth === cloth()) return;
    form.elements.blank.value = detail.blank;
    showCloths(detail.cloth);
    changed();
  });
  document.addEventListener("photo-tried", ({ detail }) => {
    if (detail && facts.photos.includes(detail.slot)) tried[detail.slot] = detail;
    else facts.photos.forEach((slot) => delete tried[slot]);
    showTried();
    changed();
  });
  one("#order-share").addEventListener("click", () => shareText(text.value.split("\n", 1)[0], text.value));
  one("#order-copy").addEventListener("click", () => copyText(text, one("#order-said"), says));
  one("#order-take").addEventListener("click", () => copyText(text, one("#order-took"), says));
  one("#order-save").addEventListener("click", () => saveText(text.value, "order-" + facts.design + ".txt", one("#order-said"), says));

  form.elements.due.min = inDays(0);
  showCloths();
  fillIn();
  changed();
  one("#order-slip").hidden = false;
  all("textarea", form).forEach((box) => grow(box));
  all("a[data-order]").forEach((link) => {
    if (link.dataset.order) link.href = link.dataset.order;
    else link.closest("p").hidden = true;
  });
  tellPiece();
})();
