import { TICKS_PER_SECOND } from "../live/contract.ts";

/** Rows kept before old ones are thinned. An hour at full detail would be 360,000. */
const MOST_ROWS = 120_000;

export interface Flag {
  timeS: number;
  text: string;
}

/** The columns of the live trace. Nothing is rounded or left out until it is drawn. */
export class TraceStore {
  private readonly columns: Float64Array[];
  private rows = 0;
  readonly flags: Flag[] = [];
  /** Counts changes, so that a drawing knows whether it is old. */
  version = 0;

  constructor(columns: number) {
    this.columns = Array.from({ length: columns + 1 }, () => new Float64Array(4096));
  }

  get length(): number {
    return this.rows;
  }

  /** Takes rows of tick and values as the worker sends them. */
  add(packed: Float64Array): void {
    const width = this.columns.length;
    for (let at = 0; at + width <= packed.length; at += width) {
      this.makeRoom();
      this.columns[0]![this.rows] = packed[at]! / TICKS_PER_SECOND;
      for (let c = 1; c < width; c += 1) this.columns[c]![this.rows] = packed[at + c]!;
      this.rows += 1;
    }
    this.version += 1;
  }

  flag(timeS: number, text: string): void {
    this.flags.push({ timeS, text });
    this.version += 1;
  }

  clear(): void {
    this.rows = 0;
    this.flags.length = 0;
    this.version += 1;
  }

  lastTime(): number {
    return this.rows === 0 ? 0 : this.columns[0]![this.rows - 1]!;
  }

  /** Time and values from `fromS` on, at most `points` rows, the last one always among them. */
  window(fromS: number, points: number): number[][] {
    const first = this.firstAt(fromS);
    const count = this.rows - first;
    const stride = Math.max(1, Math.ceil(count / points));
    const out: number[][] = this.columns.map(() => []);
    // Rows are picked by their own number, so that a moving window does not make the line shimmer.
    for (let i = Math.ceil(first / stride) * stride; i < this.rows; i += stride) this.pick(out, i);
    if (count > 0 && (this.rows - 1) % stride !== 0) this.pick(out, this.rows - 1);
    return out;
  }

  private pick(out: number[][], row: number): void {
    for (let c = 0; c < out.length; c += 1) out[c]!.push(this.columns[c]![row]!);
  }

  private firstAt(timeS: number): number {
    let low = 0;
    let high = this.rows;
    while (low < high) {
      const mid = (low + high) >> 1;
      if (this.columns[0]![mid]! < timeS) low = mid + 1;
      else high = mid;
    }
    return low;
  }

  private makeRoom(): void {
    if (this.rows >= MOST_ROWS) this.thin();
    if (this.rows < this.columns[0]!.length) return;
    for (let c = 0; c < this.columns.length; c += 1) {
      const wider = new Float64Array(this.rows * 2);
      wider.set(this.columns[c]!);
      this.columns[c] = wider;
    }
  }

  /** Leaves out every second row of the older half. */
  private thin(): void {
    const half = this.rows >> 1;
    let to = 0;
    for (let from = 0; from < this.rows; from += from < half ? 2 : 1) {
      for (const column of this.columns) column[to] = column[from]!;
      to += 1;
    }
    this.rows = to;
  }
}
