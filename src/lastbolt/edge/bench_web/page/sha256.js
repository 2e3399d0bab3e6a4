// SHA-256 (FIPS 180-4) of bytes: on plain HTTP there is no crypto.subtle.

const primes = [];
for (let number = 2; primes.length < 64; number += 1) {
  if (primes.every((prime) => number % prime)) primes.push(number);
}
const fraction = (value) => ((value - Math.floor(value)) * 2 ** 32) >>> 0;
const START = primes.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));
const ROUND = primes.map((prime) => fraction(Math.cbrt(prime)));

const turned = (word, bits) => (word >>> bits) | (word << (32 - bits));

function padded(bytes) {
  const whole = new Uint8Array(((bytes.length + 8) >> 6) * 64 + 64);
  whole.set(bytes);
  whole[bytes.length] = 0x80;
  const view = new DataView(whole.buffer);
  view.setUint32(whole.length - 8, Math.floor((bytes.length * 8) / 2 ** 32));
  view.setUint32(whole.length - 4, (bytes.length * 8) >>> 0);
  return view;
}

function spread(view, at) {
  const words = new Int32Array(64);
  for (let i = 0; i < 16; i += 1) words[i] = view.getInt32(at + i * 4);
  for (let i = 16; i < 64; i += 1) {
    const a = words[i - 15];
    const b = words[i - 2];
    const small = turned(a, 7) ^ turned(a, 18) ^ (a >>> 3);
    const large = turned(b, 17) ^ turned(b, 19) ^ (b >>> 10);
    words[i] = words[i - 16] + small + words[i - 7] + large;
  }
  return words;
}

function mixed(state, words) {
  let [a, b, c, d, e, f, g, h] = state;
  for (let i = 0; i < 64; i += 1) {
    const sum = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const one = (h + sum + ((e & f) ^ (~e & g)) + ROUND[i] + words[i]) | 0;
    const top = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const two = (top + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  return [a, b, c, d, e, f, g, h].map((word, i) => (word + state[i]) | 0);
}

export const sha256 = (text) => sha256OfBytes(new TextEncoder().encode(text));

export function sha256OfBytes(bytes) {
  const view = padded(bytes);
  let state = START.map((word) => word | 0);
  for (let at = 0; at < view.byteLength; at += 64) state = mixed(state, spread(view, at));
  return state.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}
