/* The answer slip: a short summary in the customer's language, and the block that the tool reads. */
"use strict";

const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"; /* Crockford's base 32 */
const GROUP = 5;
const GROUPS = 10; /* in a line */
const MOST_SUMMARY = 300;

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

function macOf(signed, keyHex, fingerprint) {
  const over = joined(new TextEncoder().encode(fingerprint + "\n"), signed);
  return hmacSha256(fromHex(keyHex), over).slice(0, 16);
}

function block(content) {
  const groups = base32(content).match(new RegExp(".{1," + GROUP + "}", "g"));
  const lines = [];
  for (let i = 0; i < groups.length; i += GROUPS) lines.push(groups.slice(i, i + GROUPS).join(" "));
  return ["BEGIN ANSWER CODE", ...lines, "END ANSWER CODE"].join("\n");
}

function summary(payload, words) {
  const fill = (key, name, value) => words[key].replace("{" + name + "}", () => value);
  const title = fill("title", "edition", payload.edition).replace("{order}", () => payload.order);
  const head = [title, "", words[payload.answer]];
  for (const [key, many] of [["texts", payload.changes], ["pieces", payload.wrong]]) {
    if (many && many.length) head.push(fill(key, "n", many.length));
  }
  if (payload.note) head.push(words.note);
  const name = payload.name ? [fill("name", "name", payload.name)] : [];
  const tail = ["", words.leave, ""];
  const whole = [...head, ...name, ...tail].join("\n");
  return whole.length <= MOST_SUMMARY ? whole : [...head, ...tail].join("\n");
}

/* The whole slip. `payload` has the fields that signoff/documents.py lists; `words` come with the
   page's facts, and so do key and fingerprint. */
async function composeSlip(payload, words, keyHex, fingerprint) {
  const filled = withoutEmpty(payload);
  const signed = new TextEncoder().encode(canonical(filled));
  const content = joined(await packed(signed), macOf(signed, keyHex, fingerprint));
  return summary(filled, words) + block(content) + "\n";
}

/* RFC 6068: everything encoded, lines ended by CRLF. */
function mailLink(address, subject, body) {
  const to = encodeURIComponent(address).replace(/%40/g, "@");
  const text = encodeURIComponent(body.replace(/\n/g, "\r\n"));
  return "mailto:" + to + "?subject=" + encodeURIComponent(subject) + "&body=" + text;
}
