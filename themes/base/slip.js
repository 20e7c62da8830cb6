/* The answer slip: a short summary in the customer's language, and the block that the tool reads. */
"use strict";

const MOST_SUMMARY = 300;

function macOf(signed, keyHex, fingerprint) {
  const over = joined(new TextEncoder().encode(fingerprint + "\n"), signed);
  return hmacSha256(fromHex(keyHex), over).slice(0, 16);
}

/* '1–4, 7' */
function runsOf(numbers) {
  const runs = [];
  for (const n of numbers) {
    const last = runs[runs.length - 1];
    if (last && last[1] === n - 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([from, to]) => (from === to ? String(from) : from + "–" + to)).join(", ");
}

/* Everything, in full; `pieces` of 0 is none that we know of. */
function told(payload, words, pieces) {
  const lines = (payload.changes || []).map((change) => {
    const on = change.pieces;
    const sentence = words[(change.new ? "instead" : "unsaid") + (on.length === pieces ? "" : on.length === 1 ? "_one" : "_many")];
    const apart = /[\u0590-\u08ff]/.test(sentence + change.old + change.new);
    const [old, now] = [change.old, change.new].map((text) => (apart ? "\u2068" + text + "\u2069" : text));
    return fill(sentence, { pieces: runsOf(on), old, new: now });
  });
  if (payload.wrong) lines.push(fill(words.wrong, { pieces: runsOf(payload.wrong) }));
  if (payload.note) lines.push(fill(words.noted, { note: payload.note }));
  return lines;
}

/* How much of it there is. */
function counted(payload, words) {
  const lines = [];
  for (const [key, many] of [["texts", payload.changes], ["pieces", payload.wrong]]) {
    if (many) lines.push(fill(words[key], { n: many.length }));
  }
  return payload.note ? lines.concat(words.note) : lines;
}

/* Not words that read as a mark of the block: they would hide the block itself. */
function canBeTold(payload) {
  const texts = [payload.note || ""].concat(...(payload.changes || []).map((change) => [change.old, change.new]));
  const plain = texts.join(" ").normalize("NFKC").toLowerCase().replace(/[^a-z]/g, "");
  return !/(begin|end)[a-z]{0,12}answer[a-z]{0,12}code/.test(plain);
}

/* As signoff/slip.py has it: all that was written where that is short, or where it is asked for whole. */
function summary(payload, words, pieces, whole, signed = []) {
  const title = fill(words.title, payload);
  const letter = (lines) => [title, "", words[payload.answer], ...(payload.answer === "ok" ? signed : []), ...lines, "", words.leave, ""].join("\n");
  const name = payload.name ? [fill(words.name, payload)] : [];
  const full = letter([...told(payload, words, pieces), ...name]);
  if (canBeTold(payload) && (whole || full.length <= MOST_SUMMARY)) return full;
  const short = letter([...counted(payload, words), ...name]);
  return short.length <= MOST_SUMMARY ? short : letter(counted(payload, words));
}

/* The coded block of an answer. */
async function sealed(filled, keyHex, fingerprint) {
  const signed = new TextEncoder().encode(canonical(filled));
  return block("ANSWER", joined(await packed(signed), macOf(signed, keyHex, fingerprint)));
}

/* The whole slip. `payload` has the fields that signoff/documents.py lists; `words` come with the
   page's facts, and so do key, fingerprint, how many pieces there are, and the lines that say what a
   “Yes” is `signed` for: no part of the code, which holds the fingerprint of all of it. */
async function composeSlip(payload, words, keyHex, fingerprint, pieces = 0, whole = false, signed = []) {
  const filled = withoutEmpty(payload);
  return summary(filled, words, pieces, whole, signed) + (await sealed(filled, keyHex, fingerprint)) + "\n";
}
