import type { Side } from "./geometry.ts";
import type { Grid } from "./grid.ts";

/** One place where a pipe may meet a port: the cell just outside the symbol and the way out of it. */
export interface Opening {
  cell: number;
  side: Side;
  /** Extra price, so that one opening of several can be preferred. */
  price: number;
}

export const WAYS: readonly Side[] = ["l", "r", "t", "b"];

const BEND = 7;
const CROSSING = 26;
const TOUCHING = 34;
const NEAR = 5;
const FOREIGN_PORT = 60;
const FAR = 1 << 29;

/** A binary heap of whole numbers ordered by price. */
class Queue {
  private items = new Int32Array(4096);
  private prices = new Int32Array(4096);
  size = 0;

  push(item: number, price: number): void {
    if (this.size === this.items.length) this.grow();
    let i = this.size;
    this.size += 1;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (this.prices[parent]! <= price) break;
      this.items[i] = this.items[parent]!;
      this.prices[i] = this.prices[parent]!;
      i = parent;
    }
    this.items[i] = item;
    this.prices[i] = price;
  }

  pop(): number {
    const top = this.items[0]!;
    this.size -= 1;
    const item = this.items[this.size]!;
    const price = this.prices[this.size]!;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= this.size) break;
      if (child + 1 < this.size && this.prices[child + 1]! < this.prices[child]!) child += 1;
      if (this.prices[child]! >= price) break;
      this.items[i] = this.items[child]!;
      this.prices[i] = this.prices[child]!;
      i = child;
    }
    this.items[i] = item;
    this.prices[i] = price;
    return top;
  }

  private grow(): void {
    const items = new Int32Array(this.items.length * 2);
    items.set(this.items);
    this.items = items;
    const prices = new Int32Array(this.prices.length * 2);
    prices.set(this.prices);
    this.prices = prices;
  }
}

/** Finds the cheapest right-angled path for a pipe from one of several openings to any cell of a goal. */
export class Search {
  private readonly best: Int32Array;
  private readonly cameFrom: Int32Array;
  private readonly steps: readonly number[];
  /** Box round the goal, in columns and rows: no path is shorter than the way to it. */
  private readonly goalBox = { left: 0, right: 0, top: 0, bottom: 0 };
  private readonly grid: Grid;

  constructor(grid: Grid) {
    this.grid = grid;
    this.best = new Int32Array(grid.blocked.length * 4);
    this.cameFrom = new Int32Array(grid.blocked.length * 4);
    this.steps = [-1, 1, -grid.columns, grid.columns];
  }

  /**
   * The cells of the path, start first, or null if there is no way. `arrive(cell, way)` gives the extra price of ending
   * there, or a negative number if the pipe may not end there.
   */
  path(
    net: number,
    starts: readonly Opening[],
    goals: readonly number[],
    arrive: (cell: number, way: number) => number,
  ): { cells: number[]; price: number } | null {
    const queue = new Queue();
    this.frame(goals);
    this.best.fill(FAR);
    const goal = this.best.length;
    let goalPrice = FAR;
    let goalFrom = -1;
    for (const start of starts) {
      if (this.grid.blocked[start.cell]) continue;
      const state = start.cell * 4 + WAYS.indexOf(start.side);
      if (start.price < this.best[state]!) {
        this.best[state] = start.price;
        this.cameFrom[state] = -1;
        queue.push(state, start.price + this.atLeast(start.cell));
      }
    }
    while (queue.size > 0) {
      const state = queue.pop();
      if (state === goal) return { cells: this.unwind(goalFrom), price: goalPrice };
      const cell = state >> 2;
      const way = state & 3;
      const price = this.best[state]!;
      const end = arrive(cell, way);
      if (end >= 0 && price + end < goalPrice) {
        goalPrice = price + end;
        goalFrom = state;
        queue.push(goal, goalPrice);
      }
      if (end < 0 || this.cameFrom[state] === -1) this.spread(net, cell, way, state, price, queue);
    }
    return null;
  }

  private spread(net: number, cell: number, way: number, state: number, price: number, queue: Queue): void {
    for (let next = 0; next < 4; next += 1) {
      if ((next ^ 1) === way) continue;
      const turning = next !== way;
      if (turning && !this.mayTurn(net, cell)) continue;
      const cost = this.enter(net, cell, next);
      if (cost < 0) continue;
      const target = (cell + this.steps[next]!) * 4 + next;
      const total = price + cost + (turning ? BEND : 0);
      if (total >= this.best[target]!) continue;
      this.best[target] = total;
      this.cameFrom[target] = state;
      queue.push(target, total + this.atLeast(cell + this.steps[next]!));
    }
  }

  private frame(goals: readonly number[]): void {
    const box = this.goalBox;
    const { columns } = this.grid;
    box.left = Math.min(...goals.map((g) => g % columns));
    box.right = Math.max(...goals.map((g) => g % columns));
    box.top = Math.min(...goals.map((g) => Math.floor(g / columns)));
    box.bottom = Math.max(...goals.map((g) => Math.floor(g / columns)));
  }

  /** Least price that is left from a cell to the goal. */
  private atLeast(cell: number): number {
    const box = this.goalBox;
    const column = cell % this.grid.columns;
    const row = (cell - column) / this.grid.columns;
    return Math.max(0, box.left - column, column - box.right) + Math.max(0, box.top - row, row - box.bottom);
  }

  private mayTurn(net: number, cell: number): boolean {
    const { across, down } = this.grid;
    return (across[cell]! < 0 || across[cell] === net) && (down[cell]! < 0 || down[cell] === net);
  }

  /** Price of the step from `cell` one cell in direction `way`, or -1 if it is not allowed. */
  private enter(net: number, cell: number, way: number): number {
    const grid = this.grid;
    const column = cell % grid.columns;
    if ((way === 0 && column === 0) || (way === 1 && column === grid.columns - 1)) return -1;
    const next = cell + this.steps[way]!;
    if (next < 0 || next >= grid.blocked.length || grid.blocked[next]) return -1;
    const along = way < 2 ? grid.across : grid.down;
    const other = way < 2 ? grid.down : grid.across;
    if (along[next]! >= 0 && along[next] !== net) return -1;
    let cost = 1 + grid.price[next]!;
    if (other[next]! >= 0 && other[next] !== net) cost += CROSSING;
    if (grid.reserved[next]! >= 0 && grid.reserved[next] !== net) cost += FOREIGN_PORT;
    return cost + this.crowding(net, along, next, way < 2 ? grid.columns : 1);
  }

  private crowding(net: number, along: Int16Array, cell: number, stride: number): number {
    let cost = 0;
    for (let k = 1; k <= 2; k += 1) {
      const before = along[cell - k * stride];
      const after = along[cell + k * stride];
      const price = k === 1 ? TOUCHING : NEAR;
      if (before !== undefined && before >= 0 && before !== net) cost += price;
      if (after !== undefined && after >= 0 && after !== net) cost += price;
    }
    return cost;
  }

  private unwind(state: number): number[] {
    const cells: number[] = [];
    for (let s = state; s !== -1; s = this.cameFrom[s]!) cells.push(s >> 2);
    return cells.reverse();
  }
}
