/**
 * Stops a calculation whose argument lies outside what the function is made for. The test is positive, so NaN fails.
 *
 * @throws RangeError naming the function, the argument and the range
 */
export function requireRange(name: string, x: number, low: number, high: number): void {
  if (!(x >= low && x <= high)) throw new RangeError(`${name}: the argument must lie from ${low} to ${high}, not ${x}`);
}
