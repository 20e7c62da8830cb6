/* How a slip is packed: canonical, pressed together, in letters that mails and telephones leave. */
"use strict";

const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"; /* Crockford's base 32 */
const GROUP = 5;
const GROUPS = 10; /* in a line */
const LONG_LINE = 500; /* letters; a mail's line has room for 998 (RFC 5322 2.1.1) */

function wellFormed(text) {
  /* Half a surrogate pair cannot be written as UTF-8; browsers of old know no look behind. */
  return text
    .normalize("NFC")
    .replace(/[\uD800-\uDBFF][\uDC00-\uDFFF]|[\uD800-\uDFFF]/g, (found) => (found.length === 2 ? found : "\uFFFD"));
}

/* At most so many letters as the tool takes, and none of them half. */
function limited(text, most) {
  return wellFormed(wellFormed(text.trim()).slice(0, most));
}

/* RFC 8785: keys in order, numbers and strings as ECMAScript writes them. */
function canonical(value) {
  return JSON.stringify(value, (_, it) => {
    if (it === null || typeof it !== "object" || Array.isArray(it)) return it;
    const ordered = {};
    for (const key of Object.keys(it).sort()) ordered[key] = it[key];
    return ordered;
  });
}

/* Without what says nothing. */
function withoutEmpty(payload) {
  const filled = ([, value]) => value !== "" && value !== null && value !== undefined && value.length !== 0;
  return Object.fromEntries(Object.entries(payload).filter(filled));
}

function base32(bytes) {
  let text = "";
  let held = 0;
  let bits = 0;
  for (const byte of bytes) {
    held = (held << 8) | byte;
    bits += 8;
    while (bits >= 5) {
      bits -= 5;
      text += SYMBOLS[(held >> bits) & 31];
    }
    held &= (1 << bits) - 1;
  }
  return bits ? text + SYMBOLS[(held << (5 - bits)) & 31] : text;
}

/* 1 and raw deflate where that is shorter and the browser can; else 0 and the bytes. */
async function packed(bytes) {
  const plain = joined(Uint8Array.of(0), bytes);
  try {
    const stream = new Blob([bytes]).stream().pipeThrough(new CompressionStream("deflate-raw"));
    const small = new Uint8Array(await new Response(stream).arrayBuffer());
    return small.length < bytes.length ? joined(Uint8Array.of(1), small) : plain;
  } catch {
    return plain;
  }
}

/* `kind` is what the block holds: ANSWER or ORDER. */
function block(kind, content) {
  const groups = base32(content).match(new RegExp(".{1," + GROUP + "}", "g"));
  const lines = [];
  for (let i = 0; i < groups.length; i += GROUPS) lines.push(groups.slice(i, i + GROUPS).join(" "));
  return ["BEGIN " + kind + " CODE", ...lines, "END " + kind + " CODE"].join("\n");
}

/* The same block in long lines without spaces, for a link, in which each space is three letters and
   the end of a line six; whoever reads a block passes over them. */
function closedUp(text) {
  return text.replace(/^(BEGIN [A-Z]+ CODE\n)([0-9A-Z \n]+?)(\nEND )/gm, (_, begin, code, end) =>
    begin + code.replace(/\s/g, "").match(new RegExp(".{1," + LONG_LINE + "}", "g")).join("\n") + end
  );
}

function fill(sentence, places) {
  return sentence.replace(/\{(\w+)\}/g, (whole, place) => (place in places ? places[place] : whole));
}

/* RFC 6068: everything encoded, lines ended by CRLF. */
function mailLink(address, subject, body) {
  const to = encodeURIComponent(address).replace(/%40/g, "@");
  const text = encodeURIComponent(body.replace(/\n/g, "\r\n"));
  return "mailto:" + to + "?subject=" + encodeURIComponent(subject) + "&body=" + text;
}
