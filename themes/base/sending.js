/* How a slip leaves a page: by a mail link, the clipboard or a file. Nothing is sent by the page. */
"use strict";

const LONGEST_LINK = 1800; /* letters: more is cut off by some mail programs */

/* The ways on from a slip, in the part of the page whose ids begin with `prefix`: a link that opens a
   mail with the first of the bodies that is short enough for it; where none is, never a part of it:
   the whole is copied, and a mail opens that says where to `paste` it. */
function showWays(prefix, address, subject, bodies, paste) {
  const way = (name) => document.querySelector("#" + prefix + "-" + name);
  const links = bodies.map((body) => mailLink(address, subject, closedUp(body)));
  const link = links.find((it) => it.length <= LONGEST_LINK);
  const fits = !address || link !== undefined;
  const shares = typeof navigator.share === "function";
  way("open").hidden = !address || !fits;
  way("open").href = address && fits ? link : "#" + prefix + "-long";
  way("share").hidden = fits || !shares;
  way("long").hidden = fits;
  way("copy").hidden = !fits;
  way("took").textContent = "";
  way("paste-mail").href = mailLink(address, subject, paste + "\n\n");
}

/* A day as a field of a date has it, as the page's language writes it: `dates` are its words. */
function dayIn(value, dates) {
  const [year, month, day] = value.split("-").map(Number);
  const weekday = dates.weekdays[new Date(year, month - 1, day).getDay()];
  return fill(dates.form, { weekday, day, month: dates.months[month - 1], year });
}

function shareText(title, text) {
  navigator.share({ title, text }).catch(() => {});
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
