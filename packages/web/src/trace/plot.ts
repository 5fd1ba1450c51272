import { fromSi } from "@brakeyard/units";
import uPlot from "uplot";
import type { UnitName } from "../page/settings.ts";
import type { Flag } from "./traceStore.ts";

/** Colours of the plot, read from the sheet's tokens. */
export interface Inks {
  paper: string;
  ink: string;
  ink2: string;
  hair: string;
  rule: string;
  primary: string;
  secondary: string;
}

export function readInks(): Inks {
  const style = getComputedStyle(document.documentElement);
  const token = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    paper: token("paper"),
    ink: token("ink"),
    ink2: token("ink2"),
    hair: token("hair"),
    rule: token("rule"),
    primary: token("primary"),
    secondary: token("secondary"),
  };
}

const FIGURES = '500 13px "Atkinson Mono", monospace';
const WORDS = '600 13px "Atkinson Next", sans-serif';
const TICK_EVERY = 16;
/** Heights of the two rows of words above the plot. */
const FLAG_ROWS = [22, 7];
const TIME_STEPS = [5, 10, 20, 30, 60, 120, 300, 600, 1200];

/** Least span of the tank lane, in each unit, and the step its ends are rounded to. */
const LANE: Record<UnitName, { least: number; step: number; foot: number }> = {
  psi: { least: 20, step: 10, foot: 40 },
  kPa: { least: 150, step: 50, foot: 300 },
  bar: { least: 1.5, step: 0.5, foot: 3 },
};

/** Bounds of the two lanes, in display units. */
interface Lanes {
  tank: [number, number];
  foot: number;
}

function lanesOf(data: number[][], unit: UnitName): Lanes {
  const { least, step, foot } = LANE[unit];
  const tanks = [...(data[1] ?? []), ...(data[2] ?? [])].filter((v) => !Number.isNaN(v));
  const pedals = [...(data[3] ?? []), ...(data[4] ?? [])].filter((v) => !Number.isNaN(v));
  let low = Math.min(...tanks, Number.POSITIVE_INFINITY);
  let high = Math.max(...tanks, 0);
  if (!Number.isFinite(low)) low = 0;
  low = Math.max(0, Math.floor((low - step / 4) / step) * step);
  high = Math.ceil((high + step / 4) / step) * step;
  if (high - low < least) high = low + least;
  const most = Math.max(foot, ...pedals);
  return { tank: [low, high], foot: Math.ceil(most / step) * step };
}

/** Two lanes on one sheet: the tanks above, the pedal below. Names stand beside the plot, not on it. */
export class Plot {
  private readonly plot: uPlot;
  private readonly unit: UnitName;
  private readonly inks: Inks;
  private lanes: Lanes = { tank: [0, 150], foot: 40 };
  private flags: readonly Flag[] = [];

  constructor(place: HTMLElement, unit: UnitName, width: number, height: number) {
    this.unit = unit;
    this.inks = readInks();
    this.plot = new uPlot(this.options(width, height), [[], [], [], [], [], []], place);
  }

  destroy(): void {
    this.plot.destroy();
  }

  resize(width: number, height: number): void {
    this.plot.setSize({ width, height });
  }

  /** @param columns time in s, then SI values of primary, secondary, foot, chamber */
  draw(columns: number[][], fromS: number, toS: number, flags: readonly Flag[], chamber: boolean): void {
    const shown = columns.map((column, c) => (c === 0 ? column : column.map((v) => fromSi("pressure", v, this.unit))));
    this.lanes = lanesOf(shown, this.unit);
    this.flags = flags.filter((f) => f.timeS >= fromS);
    const [time, primary, secondary, foot, inner] = shown as [number[], number[], number[], number[], number[]];
    const data: uPlot.AlignedData = [time, primary, primary, secondary, foot, chamber ? inner : inner.map(() => null)];
    this.plot.batch(() => {
      this.plot.setData(data, false);
      this.plot.setScale("x", { min: fromS, max: Math.max(toS, fromS + 1) });
      const [low, high] = this.lanes.tank;
      this.plot.setScale("tank", { min: low - (high - low) * 1.25, max: high });
      this.plot.setScale("foot", { min: 0, max: this.lanes.foot * 2.25 });
    });
  }

  private options(width: number, height: number): uPlot.Options {
    const { inks } = this;
    const axis = {
      font: FIGURES,
      stroke: inks.ink2,
      ticks: { show: false },
      grid: { stroke: inks.hair, width: 1 },
      gap: 4,
    };
    return {
      width,
      height,
      legend: { show: false },
      cursor: { show: false },
      scales: { x: { time: false }, tank: { auto: false, range: [0, 150] }, foot: { auto: false, range: [0, 90] } },
      axes: [
        { ...axis, size: 26, splits: () => this.timeMarks(), values: (_u, splits) => this.times(splits) },
        { ...axis, scale: "tank", size: 46, splits: () => this.tankMarks() },
        {
          ...axis,
          scale: "foot",
          size: 0,
          side: 3,
          splits: () => [0, this.lanes.foot / 2, this.lanes.foot],
          values: () => [],
        },
      ],
      series: [
        {},
        { scale: "tank", stroke: inks.primary, width: 5, points: { show: false } },
        { scale: "tank", stroke: inks.paper, width: 2, points: { show: false } },
        { scale: "tank", stroke: inks.secondary, width: 2, points: { show: false } },
        { scale: "foot", stroke: inks.ink, width: 2.4, points: { show: false } },
        { scale: "foot", stroke: inks.ink2, width: 2, dash: [3, 3], points: { show: false } },
      ],
      padding: [38, 14, 0, 0],
      hooks: { draw: [(u) => this.overlay(u)] },
    };
  }

  private times(splits: number[]): string[] {
    const end = this.plot.scales.x?.max ?? 0;
    return splits.map((s) => {
      const ago = Math.round(end - s);
      if (ago === 0) return "0 s";
      return ago < 120 ? `−${ago}` : `−${ago / 60} min`;
    });
  }

  /** Whole steps back from now, about four to the window. */
  private timeMarks(): number[] {
    const { min = 0, max = 0 } = this.plot?.scales.x ?? {};
    const step = TIME_STEPS.find((s) => (max - min) / s <= 4.5) ?? 1200;
    const marks: number[] = [];
    for (let t = max; t >= min; t -= step) marks.unshift(t);
    return marks;
  }

  private tankMarks(): number[] {
    const [low, high] = this.lanes.tank;
    return [low, (low + high) / 2, high];
  }

  private overlay(u: uPlot): void {
    const { ctx } = u;
    const k = devicePixelRatio;
    ctx.save();
    this.drawFootMarks(u, k);
    this.drawTicks(u, k);
    this.drawFlags(u, k);
    ctx.restore();
  }

  private drawFootMarks(u: uPlot, k: number): void {
    const { ctx } = u;
    ctx.font = FIGURES.replace("13px", `${13 * k}px`);
    ctx.fillStyle = this.inks.ink2;
    ctx.textAlign = "right";
    ctx.textBaseline = "middle";
    for (const mark of [0, this.lanes.foot / 2, this.lanes.foot]) {
      const y = u.valToPos(mark, "foot", true);
      ctx.fillText(String(mark), u.bbox.left - 6 * k, mark === 0 ? y - 6 * k : y);
    }
  }

  /** Cross ticks along the secondary line, so that it is told apart without its colour. */
  private drawTicks(u: uPlot, k: number): void {
    const { ctx } = u;
    const times = u.data[0];
    const values = u.data[3]!;
    ctx.strokeStyle = this.inks.secondary;
    ctx.lineWidth = 1.6 * k;
    ctx.beginPath();
    let next = u.bbox.left + u.bbox.width - 6 * k;
    for (let i = times.length - 1; i >= 0; i -= 1) {
      const x = u.valToPos(times[i]!, "x", true);
      if (x > next || values[i] == null) continue;
      if (x < u.bbox.left) break;
      const y = u.valToPos(values[i]!, "tank", true);
      ctx.moveTo(x, y - 5 * k);
      ctx.lineTo(x, y + 5 * k);
      next = x - TICK_EVERY * k;
    }
    ctx.stroke();
  }

  /** A flag and a dashed line for each event; the words of the newest that fit, in two rows. */
  private drawFlags(u: uPlot, k: number): void {
    u.ctx.font = WORDS.replace("13px", `${13 * k}px`);
    u.ctx.textBaseline = "middle";
    for (const flag of this.flags) this.drawPole(u, k, u.valToPos(flag.timeS, "x", true));
    const free = FLAG_ROWS.map(() => Number.POSITIVE_INFINITY);
    for (let i = this.flags.length - 1; i >= 0; i -= 1) {
      const flag = this.flags[i]!;
      const x = u.valToPos(flag.timeS, "x", true);
      if (x < u.bbox.left) break;
      const width = u.ctx.measureText(flag.text).width + 12 * k;
      const right = u.bbox.left + u.bbox.width;
      const left = x + width > right ? right - width + 12 * k : x;
      const row = free.findIndex((edge) => left + width <= edge);
      if (row < 0 || left < u.bbox.left - 40 * k) continue;
      this.drawWords(u, flag.text, left, FLAG_ROWS[row]! * k);
      free[row] = Math.min(left, x) - 4 * k;
    }
  }

  private drawPole(u: uPlot, k: number, x: number): void {
    const { ctx } = u;
    const top = u.bbox.top - 9 * k;
    if (x < u.bbox.left) return;
    ctx.strokeStyle = this.inks.rule;
    ctx.lineWidth = k;
    ctx.setLineDash([3 * k, 3 * k]);
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, u.bbox.top + u.bbox.height);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.fillStyle = this.inks.rule;
    ctx.fillRect(x, top, 8 * k, 7 * k);
  }

  private drawWords(u: uPlot, text: string, x: number, y: number): void {
    const { ctx } = u;
    ctx.textAlign = "left";
    ctx.fillStyle = this.inks.ink2;
    ctx.fillText(text, x, y);
  }
}
