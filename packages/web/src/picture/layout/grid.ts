import { type Box, TRACK } from "./geometry.ts";

const NOBODY = -1;

/**
 * The sheet as a grid of tracks. Each cell knows whether a symbol stands on it, which net runs through it across and
 * which down, which net's port opens on it, and how unwelcome a pipe is there.
 */
export class Grid {
  readonly columns: number;
  readonly rows: number;
  readonly blocked: Uint8Array;
  /** Net that runs across (index 0 .. n-1) and down (n .. 2n-1) through the cell, or -1. */
  readonly across: Int16Array;
  readonly down: Int16Array;
  readonly reserved: Int16Array;
  readonly price: Uint8Array;

  constructor(widthPx: number, heightPx: number) {
    this.columns = Math.floor(widthPx / TRACK) + 1;
    this.rows = Math.floor(heightPx / TRACK) + 1;
    const cells = this.columns * this.rows;
    this.blocked = new Uint8Array(cells);
    this.across = new Int16Array(cells).fill(NOBODY);
    this.down = new Int16Array(cells).fill(NOBODY);
    this.reserved = new Int16Array(cells).fill(NOBODY);
    this.price = new Uint8Array(cells);
  }

  cellAt(xPx: number, yPx: number): number {
    return Math.floor(yPx / TRACK + 0.5) * this.columns + Math.floor(xPx / TRACK + 0.5);
  }

  /** Calls `visit` for each cell whose centre lies in the box or within `marginPx` of it. */
  within(box: Box, marginPx: number, visit: (cell: number) => void): void {
    const c0 = Math.max(0, Math.ceil((box.x - marginPx) / TRACK));
    const c1 = Math.min(this.columns - 1, Math.floor((box.x + box.w + marginPx) / TRACK));
    const r0 = Math.max(0, Math.ceil((box.y - marginPx) / TRACK));
    const r1 = Math.min(this.rows - 1, Math.floor((box.y + box.h + marginPx) / TRACK));
    for (let r = r0; r <= r1; r += 1) for (let c = c0; c <= c1; c += 1) visit(r * this.columns + c);
  }

  /** No pipe may enter the box. */
  block(box: Box): void {
    this.within(box, 0, (cell) => {
      this.blocked[cell] = 1;
    });
  }

  /** Pipes keep out of the box if they can. */
  discourage(box: Box, marginPx: number, price: number): void {
    this.within(box, marginPx, (cell) => {
      this.price[cell] = Math.max(this.price[cell]!, price);
    });
  }

  /** Takes the pipes of one net off the sheet. */
  clear(net: number): void {
    for (let i = 0; i < this.across.length; i += 1) {
      if (this.across[i] === net) this.across[i] = NOBODY;
      if (this.down[i] === net) this.down[i] = NOBODY;
    }
  }
}
