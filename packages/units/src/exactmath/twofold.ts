/**
 * Numbers kept as an unevaluated sum of two, `hi + lo`, which doubles the digits. Each function returns the low part
 * that belongs to a high part already known, so that nothing is allocated. Only + - * / are used, each rounded as
 * IEEE 754 says, so the result is the same in every engine.
 *
 * @source [Dekker1971] splitting and exact product; [Knuth1997] 4.2.2 exact sum; both from memory
 */

/** 2^27 + 1 cuts a 53-bit number into two halves of 26 bits. */
const SPLITTER = 134217729;

/** What rounding took from `a + b`, whatever their order of size: `a + b = sum + lowOfSum` exactly. */
export function lowOfSum(a: number, b: number, sum: number): number {
  const bPart = sum - a;
  return a - (sum - bPart) + (b - bPart);
}

/**
 * What rounding took from `a * b`: `a * b = product + lowOfProduct` exactly, for |a| and |b| below 2^990 and a product
 * above 2^-960.
 */
export function lowOfProduct(a: number, b: number, product: number): number {
  const aBig = SPLITTER * a;
  const aHi = aBig - (aBig - a);
  const aLo = a - aHi;
  const bBig = SPLITTER * b;
  const bHi = bBig - (bBig - b);
  const bLo = b - bHi;
  return aLo * bLo - (product - aHi * bHi - aLo * bHi - aHi * bLo);
}

/** The low part of `(nHi + nLo) / (dHi + dLo)`, of which `quotient` is nHi / dHi rounded. */
export function lowOfQuotient(nHi: number, nLo: number, dHi: number, dLo: number, quotient: number): number {
  const product = quotient * dHi;
  const low = lowOfProduct(quotient, dHi, product);
  return (nHi - product - low + nLo - quotient * dLo) / dHi;
}
