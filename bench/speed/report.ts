/** One figure with the bar it is held against. */
export interface Row {
  readonly id: string;
  readonly what: string;
  /** Null when it could not be measured; `note` says why. */
  readonly figure: number | null;
  readonly unit: string;
  readonly bar: number;
  readonly better: "more" | "less";
  readonly stretch?: number;
  /** How the figure came about. */
  readonly note: string;
  /** Numbers behind it. */
  readonly detail: Readonly<Record<string, unknown>>;
}

export interface BenchReport {
  readonly machine: Readonly<Record<string, string | number>>;
  readonly quick: boolean;
  readonly rows: readonly (Row & { readonly ok: boolean })[];
  /** Whether every figure that could be measured keeps its bar. */
  readonly ok: boolean;
}

/** Whether a figure keeps its bar; NaN does not, and one that could not be measured is not held against it. */
export function keepsBar({ figure, bar, better }: Row): boolean {
  if (figure === null) return true;
  return better === "more" ? figure >= bar : figure <= bar;
}

export function reportOf(machine: BenchReport["machine"], quick: boolean, rows: readonly Row[]): BenchReport {
  const judged = rows.map((row) => ({ ...row, ok: keepsBar(row) }));
  return { machine, quick, rows: judged, ok: judged.every((row) => row.ok) };
}

function short(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  return Math.abs(value) >= 100 ? Math.floor(value + 0.5).toString() : String(Number(value.toPrecision(3)));
}

function barText({ bar, better, stretch, unit }: Row): string {
  const words = better === "more" ? "at least" : "at most";
  return `${words} ${short(bar)} ${unit}${stretch === undefined ? "" : `, stretch ${short(stretch)}`}`;
}

/** The report as a person reads it. */
export function benchText(report: BenchReport): string {
  const machine = Object.entries(report.machine).map(([key, value]) => `${key} ${value}`);
  const lines = report.rows.map((row) => {
    const mark = row.figure === null ? "--  " : row.ok ? "ok  " : "MISS";
    const figure = row.figure === null ? "not measured" : `${short(row.figure)} ${row.unit}`;
    return `${mark} ${row.what}: ${figure} (${barText(row)})\n       ${row.note}`;
  });
  const size = report.quick ? "quick: smaller measurements, good for a first look only\n" : "";
  return `${machine.join(", ")}\n${size}${lines.join("\n")}`;
}
