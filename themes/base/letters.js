/* Letters as a hurried hand types them, so that "zoe" finds “Zoë”, "malg" finds “Małgorzata”, and the
   other way about: without case and marks, and those that have no mark to take off by this table (what
   each is made of: its name in Unicode's character database). */
"use strict";

const PLAIN_LETTERS = {
  "ß": "ss", "æ": "ae", "œ": "oe", "ĳ": "ij", "þ": "th", "ð": "d", "ø": "o", "đ": "d", "ħ": "h",
  "ı": "i", "ĸ": "q", "ł": "l", "ŋ": "n", "ŧ": "t", "ŀ": "l", "ŉ": "n", "ſ": "s", "ƀ": "b",
  "ƃ": "b", "ƈ": "c", "ƌ": "d", "ƒ": "f", "ƙ": "k", "ƚ": "l", "ƞ": "n", "ƥ": "p", "ƫ": "t",
  "ƭ": "t", "ƴ": "y", "ƶ": "z", "ǥ": "g", "ȡ": "d", "ȥ": "z", "ȷ": "j", "ȼ": "c", "ȿ": "s",
  "ɀ": "z", "ɇ": "e", "ɉ": "j", "ɍ": "r", "ɏ": "y", "ǝ": "e", "ə": "e", "ɓ": "b", "ɗ": "d",
  "ɖ": "d", "ɛ": "e", "ɣ": "g", "ɨ": "i", "ɩ": "i", "ɔ": "o", "ʉ": "u", "ʊ": "u", "ʋ": "v",
  "ɠ": "g", "ɲ": "n", "ɵ": "o", "ʈ": "t", "ȴ": "l", "ȵ": "n", "ȶ": "t", "ɋ": "q", "ẜ": "s",
  "ẝ": "s", "ỿ": "y", "ɫ": "l", "ᵽ": "p", "ɽ": "r", "ⱨ": "h",
  "ⱥ": "a", "ⱦ": "t", "ⱡ": "l", "’": "'", "‘": "'", "ʼ": "'", "ʻ": "'", "ʹ": "'", "‐": "-",
  "‑": "-",
};
const NOT_PLAIN = new RegExp("[" + Object.keys(PLAIN_LETTERS).join("") + "]", "g");

function plainLetters(text) {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase() /* not as the page's language has it: a Turkish one would make an I without a dot */
    .replace(/\p{M}/gu, "")
    .replace(NOT_PLAIN, (letter) => PLAIN_LETTERS[letter]);
}
