/** One piece of work whose result must have the same bits everywhere. */
export interface Workload {
  /** One word. */
  readonly name: string;
  /** Does the work and returns the fingerprint of everything it computed. */
  run(): string;
}
