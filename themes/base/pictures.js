/* Pictures are marked as wrong where they stand, and what is wrong with one is written beside it. */
"use strict";

const LONGEST_WHY = 400; /* letters */

const numbersOf = (piece) => piece.dataset.pieces.split(" ").map(Number);
const isWrong = (piece) => numbersOf(piece).every((n) => draft.wrong.includes(n));

/* What a picture is called: the side that is seen, of several designs with the design's title; of a
   list the piece's number. */
function pictureName(piece) {
  if (!piece.dataset.says) return say("piece_larger", { piece: one(".number", piece).textContent });
  const round = piece.closest(".round");
  const names = [one("h2", round), one(".stage-label", round)].filter(Boolean);
  return names.map((it) => it.textContent.trim()).join(", ");
}

/* The box keeps the name of the picture on which its first letter was written. */
function whyOf(piece) {
  const known = one(".why textarea", piece);
  if (known) return known;
  const key = piece.dataset.pieces;
  const holder = document.createElement("span");
  const label = document.createElement("label");
  const field = document.createElement("textarea");
  const tell = () => {
    const name = (draft.why[key] && draft.why[key].of) || pictureName(piece);
    label.textContent = (name ? name + ": " : "") + says.what_wrong;
  };
  holder.className = "why";
  label.className = "over";
  field.id = "why-" + key.split(" ")[0];
  field.dir = "auto";
  field.rows = 2;
  field.maxLength = LONGEST_WHY;
  field.autocomplete = "off";
  field.value = (draft.why[key] && draft.why[key].said) || "";
  label.htmlFor = field.id;
  holder.append(label, field);
  piece.append(holder);
  field.addEventListener("focus", tell);
  field.addEventListener("input", () => {
    const of = (draft.why[key] && draft.why[key].of) || pictureName(piece);
    if (field.value.trim()) draft.why[key] = { of, said: field.value };
    else delete draft.why[key];
    tell();
    changed();
  });
  tell();
  return field;
}

function showPicture(piece) {
  const wrong = isWrong(piece);
  one(".tick input", piece).checked = wrong;
  if (wrong) whyOf(piece).closest(".why").hidden = false;
  else if (one(".why", piece)) one(".why", piece).hidden = true;
}

function marking(piece) {
  const label = document.createElement("label");
  const box = document.createElement("input");
  const words = document.createElement("span");
  label.className = "tick";
  box.type = "checkbox";
  box.autocomplete = "off";
  words.textContent = piece.dataset.says || says.wrong_here;
  if (!piece.dataset.says) {
    box.setAttribute("aria-label", say("piece_wrong", { piece: one(".number", piece).textContent }));
  }
  label.append(box, words);
  piece.append(label);
  box.addEventListener("change", () => {
    const numbers = numbersOf(piece);
    draft.wrong = draft.wrong.filter((n) => !numbers.includes(n));
    if (box.checked) draft.wrong = draft.wrong.concat(numbers).sort((a, b) => a - b);
    showPicture(piece);
    changed();
    if (box.checked) opened(whyOf(piece));
  });
}

/* “Front: the sky is too dark.”, one for each marked picture of which something was written. */
function whysSaid() {
  return all("[data-pieces]")
    .filter((piece) => isWrong(piece) && draft.why[piece.dataset.pieces])
    .map((piece) => draft.why[piece.dataset.pieces])
    .map(({ of, said }) => (of ? of + ": " : "") + said.trim());
}

/* The first marked picture of which nothing is written. */
function unsaidPicture() {
  return all("[data-pieces]").find((piece) => isWrong(piece) && !draft.why[piece.dataset.pieces]);
}
