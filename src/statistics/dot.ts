/**
 * Sum of products of two series of one length. Four sums side by side: fits spend their time here, and one sum would wait
 * for each addition.
 *
 * @returns in the product of their units; 0 for empty ones
 */
export function dot(a: Float64Array, b: Float64Array): number {
  const n = a.length;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    s0 += (a[i] ?? 0) * (b[i] ?? 0);
    s1 += (a[i + 1] ?? 0) * (b[i + 1] ?? 0);
    s2 += (a[i + 2] ?? 0) * (b[i + 2] ?? 0);
    s3 += (a[i + 3] ?? 0) * (b[i + 3] ?? 0);
  }
  for (; i < n; i++) s0 += (a[i] ?? 0) * (b[i] ?? 0);
  return s0 + s1 + (s2 + s3);
}
