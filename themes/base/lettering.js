/* Which of the letters that are typed a design's lettering lacks. */
"use strict";

/* Runs of letters: how far each begins behind the last letter before it and, after "-", how many
   more follow. */
function lettersIn(runs) {
  const letters = new Set();
  let last = 0;
  for (const run of runs.split(" ").filter(Boolean)) {
    const [gap, more] = run.split("-").map(Number);
    for (let end = last + gap + (more || 0), i = last + gap; i <= end; i += 1) letters.add((last = i));
  }
  return letters;
}

/* Spaces, joiners, marks of direction and of variation: nothing is drawn for them. */
const UNDRAWN = /^[\p{Zs}\p{Zl}\p{Zp}\p{Cf}\p{Cc}\uFE00-\uFE0F\u{E0100}-\u{E01EF}]$/u;

/* Each once, in the order they come; as the tool has it, a letter counts whose parts are there. */
function lettersMissing(text, letters) {
  const has = (letter) => letters.has(letter.codePointAt(0));
  const isLost = (letter) => {
    const parts = Array.from(letter.normalize("NFD"));
    return !has(letter) && !UNDRAWN.test(letter) && !(parts.length > 1 && parts.every(has));
  };
  return Array.from(new Set(Array.from(text.normalize("NFC")).filter(isLost)));
}
