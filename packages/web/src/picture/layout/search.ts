import type { Side } from "./geometry.ts";
import type { Grid } from "./grid.ts";

/** One place where a pipe may meet a port: the cell just outside the symbol and the way out of it. */
export interface Opening {
  cell: number;
  side: Side;
  /** Extra price, so that one opening of several can be preferred. */
  price: number;
}

/** A cell where a path may end: coming along one of the four ways, or along any (-1). */
export interface Goal {
  cell: number;
  way: number;
  price: number;
}

export const WAYS: readonly Side[] = ["l", "r", "t", "b"];

const BEND = 7;
const CROSSING = 26;
const TOUCHING = 14;
const NEAR = 3;
const PUSHED_ASIDE = 120;
const NONE = -1;
/** Larger than the price of any single step, so that a ring of this many buckets holds every open price. */
const RING = 512;

/**
 * Finds the cheapest right-angled path for a pipe. Prices are small whole numbers, so the open states wait in a ring of
 * buckets; arrays are stamped instead of cleared, because thousands of paths are looked for on one sheet.
 */
export class Search {
  private readonly best: Int32Array;
  private readonly stamp: Int32Array;
  private readonly cameFrom: Int32Array;
  private readonly goalPrice: Int16Array;
  private readonly goalStamp: Int32Array;
  /** Ring of waiting states: the first entry of each price, and for each entry its state and the next entry. */
  private readonly first = new Int32Array(RING);
  private entryState = new Int32Array(1 << 14);
  private entryNext = new Int32Array(1 << 14);
  private entries = 0;
  private readonly steps: readonly number[];
  private readonly grid: Grid;
  /** Whether a path may run where other pipes lie, at a high price; they must then be laid anew. */
  forcing = false;
  private round = 0;
  private open = 0;
  private left = 0;
  private right = 0;
  private top = 0;
  private bottom = 0;

  constructor(grid: Grid) {
    const states = grid.blocked.length * 4;
    this.grid = grid;
    this.best = new Int32Array(states);
    this.stamp = new Int32Array(states);
    this.cameFrom = new Int32Array(states);
    this.goalPrice = new Int16Array(states);
    this.goalStamp = new Int32Array(states);
    this.steps = [-1, 1, -grid.columns, grid.columns];
  }

  /** The cells of the path, start first, with its price; or null if there is no way. */
  path(net: number, starts: readonly Opening[], goals: readonly Goal[]): { cells: number[]; price: number } | null {
    this.round += 1;
    this.open = 0;
    this.entries = 0;
    this.first.fill(NONE);
    this.setGoals(goals);
    let endPrice = Number.POSITIVE_INFINITY;
    let end = NONE;
    for (const start of starts) {
      if (!this.grid.blocked[start.cell]) this.offer(start.cell * 4 + WAYS.indexOf(start.side), start.price, NONE);
    }
    for (let at = 0; this.open > 0 && at < endPrice; at += 1) {
      for (let state = this.take(at % RING); state !== NONE; state = this.take(at % RING)) {
        const price = this.best[state]!;
        if (price + this.atLeast(state >> 2) !== at) continue;
        const isGoal = this.goalStamp[state] === this.round;
        if (isGoal && price + this.goalPrice[state]! < endPrice) {
          endPrice = price + this.goalPrice[state]!;
          end = state;
        }
        if (!isGoal || this.cameFrom[state] === NONE) this.spread(net, state, price);
      }
    }
    return end === NONE ? null : { cells: this.unwind(end), price: endPrice };
  }

  private setGoals(goals: readonly Goal[]): void {
    const { columns } = this.grid;
    this.left = Number.POSITIVE_INFINITY;
    this.right = 0;
    this.top = Number.POSITIVE_INFINITY;
    this.bottom = 0;
    for (const goal of goals) {
      const column = goal.cell % columns;
      const row = (goal.cell - column) / columns;
      this.left = Math.min(this.left, column);
      this.right = Math.max(this.right, column);
      this.top = Math.min(this.top, row);
      this.bottom = Math.max(this.bottom, row);
      for (let way = 0; way < 4; way += 1) {
        if (goal.way !== NONE && goal.way !== way) continue;
        this.goalPrice[goal.cell * 4 + way] = goal.price;
        this.goalStamp[goal.cell * 4 + way] = this.round;
      }
    }
  }

  /** Takes a state at a price if it is better than what is known. */
  private offer(state: number, price: number, from: number): void {
    if (this.stamp[state] === this.round && this.best[state]! <= price) return;
    this.stamp[state] = this.round;
    this.best[state] = price;
    this.cameFrom[state] = from;
    this.wait(state, (price + this.atLeast(state >> 2)) % RING);
  }

  private wait(state: number, bucket: number): void {
    if (this.entries === this.entryState.length) this.grow();
    this.entryState[this.entries] = state;
    this.entryNext[this.entries] = this.first[bucket]!;
    this.first[bucket] = this.entries;
    this.entries += 1;
    this.open += 1;
  }

  /** Takes one state out of a bucket; -1 when it is empty. */
  private take(bucket: number): number {
    const entry = this.first[bucket]!;
    if (entry === NONE) return NONE;
    this.first[bucket] = this.entryNext[entry]!;
    this.open -= 1;
    return this.entryState[entry]!;
  }

  private grow(): void {
    const wider = (old: Int32Array<ArrayBuffer>) => {
      const fresh = new Int32Array(2 * old.length);
      fresh.set(old);
      return fresh;
    };
    this.entryState = wider(this.entryState);
    this.entryNext = wider(this.entryNext);
  }

  private spread(net: number, state: number, price: number): void {
    const cell = state >> 2;
    const way = state & 3;
    const turn = this.mayTurn(net, cell);
    for (let next = 0; next < 4; next += 1) {
      if ((next ^ 1) === way || (next !== way && !turn)) continue;
      const cost = this.enter(net, cell, next);
      if (cost < 0) continue;
      this.offer((cell + this.steps[next]!) * 4 + next, price + cost + (next === way ? 0 : BEND), state);
    }
  }

  private mayTurn(net: number, cell: number): boolean {
    const { across, down } = this.grid;
    if (this.forcing) return true;
    return (across[cell]! < 0 || across[cell] === net) && (down[cell]! < 0 || down[cell] === net);
  }

  /** Price of the step from `cell` one cell in direction `way`, or -1 if it is not allowed. */
  private enter(net: number, cell: number, way: number): number {
    const grid = this.grid;
    const column = cell % grid.columns;
    if ((way === 0 && column === 0) || (way === 1 && column === grid.columns - 1)) return NONE;
    const next = cell + this.steps[way]!;
    if (next < 0 || next >= grid.blocked.length || grid.blocked[next]) return NONE;
    const along = way < 2 ? grid.across : grid.down;
    const other = way < 2 ? grid.down : grid.across;
    const taken = along[next]! >= 0 && along[next] !== net;
    if (taken && !this.forcing) return NONE;
    if (grid.reserved[next]! >= 0 && grid.reserved[next] !== net) return NONE;
    let cost = 1 + grid.price[next]! + (taken ? PUSHED_ASIDE : 0);
    if (other[next]! >= 0 && other[next] !== net) cost += CROSSING;
    return cost + this.crowding(net, along, next, way < 2 ? grid.columns : 1);
  }

  private crowding(net: number, along: Int16Array, cell: number, stride: number): number {
    return (
      this.crowd(net, along, cell - stride, TOUCHING) +
      this.crowd(net, along, cell + stride, TOUCHING) +
      this.crowd(net, along, cell - 2 * stride, NEAR) +
      this.crowd(net, along, cell + 2 * stride, NEAR)
    );
  }

  private crowd(net: number, along: Int16Array, cell: number, price: number): number {
    if (cell < 0 || cell >= along.length) return 0;
    const who = along[cell]!;
    return who >= 0 && who !== net ? price : 0;
  }

  /** Least price that is left from a cell to the goals. */
  private atLeast(cell: number): number {
    const column = cell % this.grid.columns;
    const row = (cell - column) / this.grid.columns;
    const dx = column < this.left ? this.left - column : column > this.right ? column - this.right : 0;
    const dy = row < this.top ? this.top - row : row > this.bottom ? row - this.bottom : 0;
    return dx + dy;
  }

  private unwind(state: number): number[] {
    const cells: number[] = [];
    for (let s = state; s !== NONE; s = this.cameFrom[s]!) cells.push(s >> 2);
    return cells.reverse();
  }
}
