/**
 * SHA-256 in the page itself. The browser's own answers later, from another thread: for the 700 bytes of a row
 * the way there and back costs many times the hash, and an entry has to wait for it.
 *
 * Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.1.1, 5.3.3 and 6.2. Nothing secret is ever hashed here under a key.
 */

/** Section 4.2.2: of the cube roots of the first 64 primes, the first 32 bits after the point. */
const constants = Int32Array.of(
  0x428a2f98,
  0x71374491,
  0xb5c0fbcf,
  0xe9b5dba5,
  0x3956c25b,
  0x59f111f1,
  0x923f82a4,
  0xab1c5ed5,
  0xd807aa98,
  0x12835b01,
  0x243185be,
  0x550c7dc3,
  0x72be5d74,
  0x80deb1fe,
  0x9bdc06a7,
  0xc19bf174,
  0xe49b69c1,
  0xefbe4786,
  0x0fc19dc6,
  0x240ca1cc,
  0x2de92c6f,
  0x4a7484aa,
  0x5cb0a9dc,
  0x76f988da,
  0x983e5152,
  0xa831c66d,
  0xb00327c8,
  0xbf597fc7,
  0xc6e00bf3,
  0xd5a79147,
  0x06ca6351,
  0x14292967,
  0x27b70a85,
  0x2e1b2138,
  0x4d2c6dfc,
  0x53380d13,
  0x650a7354,
  0x766a0abb,
  0x81c2c92e,
  0x92722c85,
  0xa2bfe8a1,
  0xa81a664b,
  0xc24b8b70,
  0xc76c51a3,
  0xd192e819,
  0xd6990624,
  0xf40e3585,
  0x106aa070,
  0x19a4c116,
  0x1e376c08,
  0x2748774c,
  0x34b0bcb5,
  0x391c0cb3,
  0x4ed8aa4a,
  0x5b9cca4f,
  0x682e6ff3,
  0x748f82ee,
  0x78a5636f,
  0x84c87814,
  0x8cc70208,
  0x90befffa,
  0xa4506ceb,
  0xbef9a3f7,
  0xc67178f2,
);

/** Section 5.3.3: the same of the square roots of the first 8. */
const start = [
  0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19,
];

const blockBytes = 64;
/** After the text come one bit and its length, in bits, as 64 bits. */
const endBytes = 9;

/** The hash of a text in UTF-8, in hex. */
export function sha256(text: string): string {
  const message = padded(text);
  const words = new DataView(message.buffer);
  const state = Int32Array.from(start);
  const schedule = new Int32Array(64);
  for (let at = 0; at < message.length; at += blockBytes) {
    for (let t = 0; t < 16; t += 1) schedule[t] = words.getInt32(at + 4 * t);
    takeIn(state, schedule);
  }
  return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, '0')).join('');
}

function padded(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new TextEncoder().encode(text);
  const blocks = Math.ceil((bytes.length + endBytes) / blockBytes);
  const message = new Uint8Array(blocks * blockBytes);
  message.set(bytes);
  message[bytes.length] = 0x80;
  // A row is far shorter than the 2^53 bits up to which this is exact.
  new DataView(message.buffer).setBigUint64(message.length - 8, BigInt(bytes.length * 8));
  return message;
}

/** Section 6.2.2 for one block, whose 16 words stand at the beginning of `w`. */
function takeIn(state: Int32Array, w: Int32Array): void {
  for (let t = 16; t < 64; t += 1) {
    const two = w[t - 2] ?? 0;
    const fifteen = w[t - 15] ?? 0;
    const small1 = turned(two, 17) ^ turned(two, 19) ^ (two >>> 10);
    const small0 = turned(fifteen, 7) ^ turned(fifteen, 18) ^ (fifteen >>> 3);
    w[t] = small1 + (w[t - 7] ?? 0) + small0 + (w[t - 16] ?? 0);
  }
  // One by one: taking a typed array apart at once costs as much as the hash.
  let a = state[0] ?? 0;
  let b = state[1] ?? 0;
  let c = state[2] ?? 0;
  let d = state[3] ?? 0;
  let e = state[4] ?? 0;
  let f = state[5] ?? 0;
  let g = state[6] ?? 0;
  let h = state[7] ?? 0;
  for (let t = 0; t < 64; t += 1) {
    const big1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const chosen = (e & f) ^ (~e & g);
    const one = (h + big1 + chosen + (constants[t] ?? 0) + (w[t] ?? 0)) | 0;
    const big0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const most = (a & b) ^ (a & c) ^ (b & c);
    h = g;
    g = f;
    f = e;
    e = (d + one) | 0;
    d = c;
    c = b;
    b = a;
    a = (one + big0 + most) | 0;
  }
  state[0] = (state[0] ?? 0) + a;
  state[1] = (state[1] ?? 0) + b;
  state[2] = (state[2] ?? 0) + c;
  state[3] = (state[3] ?? 0) + d;
  state[4] = (state[4] ?? 0) + e;
  state[5] = (state[5] ?? 0) + f;
  state[6] = (state[6] ?? 0) + g;
  state[7] = (state[7] ?? 0) + h;
}

const turned = (word: number, by: number): number => (word >>> by) | (word << (32 - by));
