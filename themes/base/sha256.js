/* SHA-256 (FIPS 180-4) and HMAC (RFC 2104) over bytes: a page opened from a disk or over plain
   http has no crypto of the browser's own. */
"use strict";

function primes(count) {
  const found = [];
  for (let n = 2; found.length < count; n += 1) {
    if (found.every((p) => n % p !== 0)) found.push(n);
  }
  return found;
}

/* The first 32 bits of the fractional part of a root (FIPS 180-4, 4.2.2 and 5.3.3). */
function fraction(root) {
  return Math.floor((root - Math.floor(root)) * 4294967296) | 0;
}

const ROUND_WORDS = primes(64).map((p) => fraction(Math.cbrt(p)));
const FIRST_STATE = primes(8).map((p) => fraction(Math.sqrt(p)));

function padded(bytes) {
  const length = ((bytes.length + 8) >> 6) * 64 + 64;
  const whole = new Uint8Array(length);
  whole.set(bytes);
  whole[bytes.length] = 0x80;
  const view = new DataView(whole.buffer);
  view.setUint32(length - 8, Math.floor(bytes.length / 536870912));
  view.setUint32(length - 4, (bytes.length << 3) >>> 0);
  return view;
}

function turn(x, by) {
  return (x >>> by) | (x << (32 - by));
}

function schedule(view, start, w) {
  for (let i = 0; i < 16; i += 1) w[i] = view.getInt32(start + 4 * i);
  for (let i = 16; i < 64; i += 1) {
    const a = w[i - 15];
    const b = w[i - 2];
    const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[i] = (w[i - 16] + s0 + w[i - 7] + s1) | 0;
  }
}

function compress(state, w) {
  let [a, b, c, d, e, f, g, h] = state;
  for (let i = 0; i < 64; i += 1) {
    const s1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + ROUND_WORDS[i] + w[i]) | 0;
    const s0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
  }
  return [a, b, c, d, e, f, g, h].map((word, i) => (state[i] + word) | 0);
}

function sha256(bytes) {
  const view = padded(bytes);
  const w = new Int32Array(64);
  let state = FIRST_STATE;
  for (let start = 0; start < view.byteLength; start += 64) {
    schedule(view, start, w);
    state = compress(state, w);
  }
  const result = new DataView(new ArrayBuffer(32));
  state.forEach((word, i) => result.setInt32(4 * i, word));
  return new Uint8Array(result.buffer);
}

function joined(one, other) {
  const whole = new Uint8Array(one.length + other.length);
  whole.set(one);
  whole.set(other, one.length);
  return whole;
}

function hmacSha256(key, bytes) {
  const block = new Uint8Array(64);
  block.set(key.length > 64 ? sha256(key) : key);
  const inner = sha256(joined(block.map((b) => b ^ 0x36), bytes));
  return sha256(joined(block.map((b) => b ^ 0x5c), inner));
}

function fromHex(text) {
  return Uint8Array.from(text.match(/../g) || [], (pair) => parseInt(pair, 16));
}

function toHex(bytes) {
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
