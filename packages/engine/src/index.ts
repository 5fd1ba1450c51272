export * from './model/model.ts';
export * from './model/network.ts';
export { type Balance } from './run/balance.ts';
export type { ControlEntry } from './run/discrete.ts';
export * from './run/simulation.ts';
export type { StartState } from './run/start.ts';
export { TICK_S, tickTimeS } from './time.ts';
