/** Adaptive Simpson quadrature of f from a to b to a relative error of about `share`. Written for these checks; the product has none. */
export function quadrature(f: (x: number) => number, a: number, b: number, share = 1e-9): number {
  const m = (a + b) / 2;
  const [fa, fm, fb] = [f(a), f(m), f(b)];
  const whole = simpson(a, b, fa, fm, fb);
  return refine(f, a, b, fa, fm, fb, whole, Math.abs(whole) * share, 50);
}

function simpson(a: number, b: number, fa: number, fm: number, fb: number): number {
  return ((b - a) / 6) * (fa + 4 * fm + fb);
}

function refine(
  f: (x: number) => number,
  a: number,
  b: number,
  fa: number,
  fm: number,
  fb: number,
  whole: number,
  within: number,
  depth: number,
): number {
  const m = (a + b) / 2;
  const [l, r] = [(a + m) / 2, (m + b) / 2];
  const [fl, fr] = [f(l), f(r)];
  const left = simpson(a, m, fa, fl, fm);
  const right = simpson(m, b, fm, fr, fb);
  const error = left + right - whole;
  if (depth === 0 || Math.abs(error) <= 15 * within) return left + right + error / 15;
  return (
    refine(f, a, m, fa, fl, fm, left, within / 2, depth - 1) + refine(f, m, b, fm, fr, fb, right, within / 2, depth - 1)
  );
}
