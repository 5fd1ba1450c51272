/** One figure that a proof found, with the bound it must keep. */
export interface Figure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** The value must not be above this. */
  readonly limit: number;
}

/** What a proof may use while it runs. */
export interface ProofTools {
  /** The same seed gives the same proof. */
  readonly seed: string;
  /** Multiplies the amount of work: 1 is the usual size. */
  readonly scale: number;
  /** Tells the person how far it is, 0 to 1. */
  progress(share: number): void;
}

/**
 * A claim too costly to test on every change. A proof is cut into parts; each part is run apart, and its figures are
 * kept, so that a stopped proof goes on where it was. A figure found in several parts counts with its largest value.
 */
export interface Proof {
  /** One word. */
  readonly name: string;
  /** What is claimed, in one sentence. */
  readonly claim: string;
  /** Names of the parts. */
  readonly parts: readonly string[];
  run(part: string, tools: ProofTools): readonly Figure[] | Promise<readonly Figure[]>;
}
