/* The answer slip: the same letters as the tool would write, from the same fields. */
"use strict";

const TICKS = ["spelling", "crop", "colour", "quantity", "photo"];
const WIDTH = 60;

function wellFormed(text) {
  /* Half a surrogate pair cannot be written as UTF-8. */
  return text
    .normalize("NFC")
    .replace(/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g, "\uFFFD");
}

/* At most so many letters as the tool takes, and none of them half. */
function limited(text, most) {
  return wellFormed(wellFormed(text.trim()).slice(0, most));
}

/* "12, 37 and 5" as [5, 12, 37]. */
function pieceNumbers(text) {
  const found = (text.match(/\d+/g) || []).map(Number);
  return [...new Set(found)].sort((a, b) => a - b);
}

/* RFC 8785: keys in order, numbers and strings as ECMAScript writes them. */
function canonical(payload) {
  const ordered = {};
  for (const key of Object.keys(payload).sort()) ordered[key] = payload[key];
  return JSON.stringify(ordered);
}

function base64url(bytes) {
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

function codedBlock(payload, keyHex) {
  const signed = new TextEncoder().encode(canonical(payload));
  const coded = base64url(signed) + "." + base64url(hmacSha256(fromHex(keyHex), signed));
  const lines = [];
  for (let i = 0; i < coded.length; i += WIDTH) lines.push(coded.slice(i, i + WIDTH));
  return ["BEGIN ANSWER CODE", ...lines, "END ANSWER CODE"].join("\n");
}

function summary(payload, words) {
  const title = words.title
    .replace("{edition}", () => payload.edition)
    .replace("{order}", () => payload.order);
  const ticked = TICKS.filter((t) => payload.ticks.includes(t)).map((t) => words[t]);
  const lines = [
    title,
    "",
    words[payload.answer],
    words.checked + " " + (ticked.join(", ") || words.nothing),
    words.may_show + " " + (payload.may_show ? words.yes : words.no),
  ];
  if (payload.wrong.length) lines.push(words.wrong + " " + payload.wrong.join(", "));
  lines.push(words.name + " " + payload.name);
  if (payload.remarks) lines.push(words.remarks + " " + payload.remarks);
  lines.push(words.written + " " + payload.time, "", words.leave, "");
  return lines.join("\n");
}

function composeSlip(payload, words, keyHex) {
  return summary(payload, words) + codedBlock(payload, keyHex) + "\n";
}

/* RFC 6068: everything encoded, lines ended by CRLF; "" when mail programs would cut it off. */
function mailLink(address, subject, body, most) {
  const to = encodeURIComponent(address).replace(/%40/g, "@");
  const text = encodeURIComponent(body.replace(/\n/g, "\r\n"));
  const link = "mailto:" + to + "?subject=" + encodeURIComponent(subject) + "&body=" + text;
  return link.length <= most ? link : "";
}
