/** First 32 bits of the fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2). */
const roundConstants = Uint32Array.from(firstPrimes(64), (prime) => fraction32(Math.cbrt(prime)));

/** The same of the square roots of the first eight (FIPS 180-4, 5.3.3). */
const initialHash = Uint32Array.from(firstPrimes(8), (prime) => fraction32(Math.sqrt(prime)));

function firstPrimes(count: number): number[] {
  const primes: number[] = [];
  for (let n = 2; primes.length < count; n++) if (primes.every((p) => n % p !== 0)) primes.push(n);
  return primes;
}

function fraction32(value: number): number {
  return Math.floor((value - Math.floor(value)) * 2 ** 32);
}

function rotated(x: number, bits: number): number {
  return (x >>> bits) | (x << (32 - bits));
}

/**
 * SHA-256 (FIPS 180-4) of a text in UTF-8, for rooms that have no cryptography of their own.
 *
 * @param text short: a few kilobytes
 * @returns the digest as eight 32-bit words, the first one first
 */
export function sha256Words(text: string): Uint32Array {
  const bytes = new TextEncoder().encode(text);
  const blocks = Math.ceil((bytes.length + 9) / 64);
  const padded = new Uint8Array(64 * blocks);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, bytes.length * 8);
  const hash = Uint32Array.from(initialHash);
  const words = new Uint32Array(64);
  for (let block = 0; block < blocks; block++) {
    for (let i = 0; i < 16; i++) words[i] = view.getUint32(64 * block + 4 * i);
    addBlock(hash, words);
  }
  return hash;
}

/** One round of the compression function (FIPS 180-4, 6.2.2); `words` holds the block in its first 16. */
function addBlock(hash: Uint32Array, words: Uint32Array): void {
  const at = (list: Uint32Array, i: number) => list[i] ?? 0;
  for (let i = 16; i < 64; i++) {
    const early = at(words, i - 15);
    const late = at(words, i - 2);
    const s0 = rotated(early, 7) ^ rotated(early, 18) ^ (early >>> 3);
    const s1 = rotated(late, 17) ^ rotated(late, 19) ^ (late >>> 10);
    words[i] = at(words, i - 16) + s0 + at(words, i - 7) + s1;
  }
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = hash;
  for (let i = 0; i < 64; i++) {
    const s1 = rotated(e, 6) ^ rotated(e, 11) ^ rotated(e, 25);
    const choice = (e & f) ^ (~e & g);
    const first = (h + s1 + choice + at(roundConstants, i) + at(words, i)) | 0;
    const s0 = rotated(a, 2) ^ rotated(a, 13) ^ rotated(a, 22);
    const majority = (a & b) ^ (a & c) ^ (b & c);
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + s0 + majority) | 0];
  }
  for (const [i, word] of [a, b, c, d, e, f, g, h].entries()) hash[i] = at(hash, i) + word;
}
