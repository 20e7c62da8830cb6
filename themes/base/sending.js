/* How a slip leaves a page: by a mail link, the clipboard or a file. Nothing is sent by the page. */
"use strict";

const LONGEST_LINK = 1800; /* letters: more is cut off by some mail programs */

/* A link with the first of the texts that keeps it short enough, else with the last, and which. */
function shortEnough(address, subject, bodies) {
  const links = bodies.map((body) => mailLink(address, subject, body));
  const fits = links.findIndex((link) => link.length <= LONGEST_LINK);
  const which = fits < 0 ? links.length - 1 : fits;
  return [links[which], which];
}

/* `field` holds the text, `note` tells what became of it, in the words `says`. */
function copyText(field, note, says) {
  const byHand = () => {
    field.focus();
    field.select();
    note.textContent = document.execCommand("copy") ? says.copied : says.selected;
  };
  const done = () => {
    note.textContent = says.copied;
  };
  if (navigator.clipboard) navigator.clipboard.writeText(field.value).then(done, byHand);
  else byHand();
}

function saveText(text, name, note, says) {
  const link = document.createElement("a");
  const url = URL.createObjectURL(new Blob([text], { type: "text/plain;charset=utf-8" }));
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
  note.textContent = fill(says.saved, { file: name });
}
