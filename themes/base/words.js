/* Names and dates, asked one by one; in a long list they are found, ordered and walked by arrows. */
"use strict";

const list = one(".words");
const rows = list ? all(".word", list) : [];
const byId = {};
let walk = null; /* over a long list */
let byPointer = false; /* the last choice was made by a tap, not by a key */
facts.texts.forEach((text) => {
  byId[text.id] = text;
});

/* The field for how it should read stands where the text stands. */
function fieldOf(row) {
  const known = one(".instead", row);
  if (known) return one("input, textarea", known);
  const holder = document.createElement("p");
  const label = document.createElement("label");
  const text = byId[row.id].text;
  const field = document.createElement(text.includes("\n") ? "textarea" : "input");
  if (field.tagName === "INPUT") field.type = "text";
  else field.rows = text.split("\n").length + 1;
  field.id = row.id + "-now";
  field.dir = "auto";
  field.maxLength = 400;
  field.spellcheck = false;
  field.autocomplete = "off";
  field.setAttribute("autocapitalize", "off");
  field.setAttribute("autocorrect", "off");
  field.value = text;
  label.className = "over";
  label.htmlFor = field.id;
  label.textContent = says.right_words;
  holder.className = "instead";
  holder.append(label, field);
  one(".verdict", row).after(holder);
  field.addEventListener("focus", () => field.setSelectionRange(field.value.length, field.value.length));
  field.addEventListener("input", () => {
    draft.texts[row.id] = { now: field.value };
    changed();
  });
  return field;
}

/* A field that has opened under a choice: after a tap it waits for letters; after a key the choice
   keeps the focus, and the field comes out from under the bar. */
function opened(field) {
  if (byPointer) field.focus();
  else field.parentNode.scrollIntoView({ block: "nearest" });
}

function showRow(row) {
  const said = draft.texts[row.id];
  all("input[type=radio]", row).forEach((radio) => {
    radio.checked = Boolean(said) && (radio.value === "right") === Boolean(said.right);
  });
  row.classList.toggle("is-right", Boolean(said && said.right));
  row.classList.toggle("is-wrong", Boolean(said && !said.right));
  if (said && !said.right) {
    const field = fieldOf(row);
    field.closest(".instead").hidden = false;
    if (field.value !== said.now) field.value = said.now;
  } else if (one(".instead", row)) one(".instead", row).hidden = true;
}

function asking(row) {
  const text = byId[row.id];
  const asked = one("#verdict").content.cloneNode(true);
  one("legend", asked).textContent = say("is_it_right", { text: text.text });
  all("input", asked).forEach((radio) => {
    radio.name = "verdict-" + text.id;
    radio.addEventListener("change", () => {
      draft.texts[text.id] = radio.value === "right" ? { right: true } : { now: text.text };
      showRow(row);
      changed();
      if (radio.value === "wrong") opened(fieldOf(row));
    });
  });
  (one("summary .text", row) ? one("details", row) : one(".text", row)).after(asked);
}

/* Of a long list one item at a time is a stop for the Tab key; arrows go from item to item. */
function walked(container, selector, keys) {
  const inSight = () => all(selector, container).filter((item) => !item.hidden);
  function reachable(item, on) {
    item.classList.toggle("at", on);
    all("input, textarea, summary, button", item).forEach((control) => {
      if (on) control.removeAttribute("tabindex");
      else control.tabIndex = -1;
    });
  }
  function stopAt(item) {
    const before = one(".at", container);
    if (!item || before === item) return;
    if (before) reachable(before, false);
    reachable(item, true);
  }
  function enter(item) {
    stopAt(item);
    const controls = all("input", item);
    (controls.find((control) => control.checked) || controls[0]).focus();
  }
  all(selector, container).forEach((item) => reachable(item, false));
  stopAt(inSight()[0]);
  container.addEventListener("focusin", (event) => stopAt(event.target.closest(selector)));
  container.addEventListener("keydown", (event) => {
    const by = keys[event.key];
    if (!by || /^(text|textarea)$/.test(event.target.type)) return;
    const seen = inSight();
    const next = seen[seen.indexOf(event.target.closest(selector)) + by];
    event.preventDefault();
    if (next) enter(next);
  });
  return { inSight, stopAt, enter };
}

/* Whether a text stands on every piece that has words of the same line: no number means it. */
function isOnAll(text) {
  return facts.texts.every((other) => other.line !== text.line || other.pieces.every((n) => text.pieces.includes(n)));
}

function finding() {
  const wish = plainLetters(one("#find-word").value.trim());
  const numbered = Number(wish) >= 1 && Number(wish) <= facts.pieces;
  rows.forEach((row) => {
    const text = byId[row.id];
    const meant = plainLetters(text.text).includes(wish) || text.pieces.includes(Number(wish));
    row.hidden = Boolean(wish) && (!meant || (numbered && isOnAll(text)));
  });
  walk.stopAt(walk.inSight()[0]);
  tellRead();
}

function ordering() {
  const order = new Intl.Collator(document.documentElement.lang, { numeric: true });
  const sorted = rows.slice();
  if (one("#word-order").value === "letters") {
    sorted.sort((a, b) => order.compare(byId[a.id].text, byId[b.id].text));
  }
  list.append(...sorted);
  walk.stopAt(walk.inSight()[0]);
}

const unread = () => facts.texts.filter((text) => !draft.texts[text.id]);

/* The next one without a mark, from where the reader is. */
function nextUnread() {
  if (walk) {
    one("#find-word").value = "";
    finding();
  }
  const here = all(".word", list);
  const at = Math.max(0, here.indexOf(one(".at", list)));
  const next = here.slice(at).concat(here.slice(0, at)).find((row) => !draft.texts[row.id]);
  if (next) goTo(next);
}

function goTo(row) {
  if (walk) walk.enter(row);
  else one("input:checked, input", row).focus();
  row.scrollIntoView({ block: "center" });
}

const isRight = (text) => Boolean(draft.texts[text.id] && draft.texts[text.id].right);

/* How much is marked as right; of a list the pieces are counted, and apart from them the words that
   stand on several. */
function rightSoFar() {
  const own = {};
  const others = facts.texts.filter((text) => text.pieces.length > 1);
  for (const text of facts.texts.filter((one) => one.pieces.length === 1)) {
    (own[text.pieces[0]] = own[text.pieces[0]] || []).push(text);
  }
  const pieces = Object.values(own);
  const right = facts.texts.filter(isRight).length;
  if (right === facts.texts.length) return says.all_read;
  if (!others.length || pieces.length < 2) return say("read", { done: right, all: facts.texts.length });
  return say("read_apart", {
    done: pieces.filter((texts) => texts.every(isRight)).length,
    all: pieces.length,
    more: others.filter(isRight).length,
    others: others.length,
  });
}

function tellRead() {
  const said = one(".read-so-far");
  const wrong = facts.texts.filter((text) => draft.texts[text.id] && !isRight(text)).length;
  const parts = [rightSoFar()];
  if (wrong) parts.push(say("wrong", { count: wrong }));
  if (walk && one("#find-word").value.trim()) {
    const found = walk.inSight().length;
    parts.unshift(found ? say("found", { count: found }) : says.none_found);
  }
  said.textContent = parts.join(" ");
  if (walk) tellRest();
}

/* Who has read a long list to its end marks in one go what she has not marked; and back. What
   something is said of is looked at by itself. */
const isNoticed = (text) => Boolean(one(".also, .lacks", document.getElementById(text.id)));
const restButton = one("#rest-right");
let restMarked = [];

function markRest() {
  const back = restMarked.length > 0;
  if (back) {
    restMarked = restMarked.filter((id) => draft.texts[id] && draft.texts[id].right);
    restMarked.forEach((id) => delete draft.texts[id]);
  } else {
    restMarked = unread().filter((text) => !isNoticed(text)).map((text) => text.id);
    restMarked.forEach((id) => {
      draft.texts[id] = { right: true };
    });
  }
  const many = restMarked.length;
  if (back) restMarked = [];
  showMarks();
  changed();
  const said = [say(back ? "rest_back" : "rest_marked", { n: many })];
  const noticed = back ? 0 : unread().filter(isNoticed).length;
  if (noticed) said.push(say("rest_noticed", { n: noticed }));
  one("#rest-said").textContent = said.join(" ");
}

function tellRest() {
  restButton.textContent = restMarked.length ? restButton.dataset.back : restButton.dataset.all;
  restButton.hidden = Boolean(one("#find-word").value.trim()) || !(restMarked.length || unread().some((text) => !isNoticed(text)));
}

function showMarks() {
  rows.forEach(showRow);
  all("[data-pieces]").forEach(showPicture);
}

const ALL_ARROWS = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 };

document.addEventListener("pointerdown", () => {
  byPointer = true;
});
document.addEventListener("keydown", () => {
  byPointer = false;
});
all("[data-pieces]").forEach(marking);
all("#pieces .asks").forEach((asked) => {
  asked.hidden = false;
});
rows.forEach(asking);
showMarks();
all(".pieces").forEach((sheet) => {
  if (all("[data-pieces]", sheet).length > 8) walked(sheet, "[data-pieces]", ALL_ARROWS);
});
if (list) {
  if (list.classList.contains("many")) {
    walk = walked(list, ".word", { ArrowUp: -1, ArrowDown: 1 });
    one("#find-word").addEventListener("input", finding);
    one("#word-order").addEventListener("change", ordering);
    one("#next-unread").addEventListener("click", nextUnread);
    restButton.addEventListener("click", markRest);
  }
  all("#words > [hidden]").forEach((part) => {
    part.hidden = false;
  });
  listeners.push(tellRead);
  tellRead();
}
