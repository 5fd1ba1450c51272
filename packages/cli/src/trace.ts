import { type Simulation, tickTimeS } from "@brakeyard/engine";
import type { PreparedRun, RunChannel } from "@brakeyard/vehicle";
import type { WholeFile } from "./files.ts";

/** Writes the rows of a run as they come, then what is known at its end. */
export interface TraceWriter {
  begin(run: PreparedRun): void;
  row(timeS: number, values: readonly number[]): void;
  end(simulation: Simulation, events: readonly RunEvent[]): void;
}

export type RunEvent = ReturnType<Simulation["takeEvents"]>[number];

/** Columns of numbers against time, for a spreadsheet. SI; events and balance are not in it. */
export function csvWriter(file: WholeFile): TraceWriter {
  return {
    begin: ({ channels }) => file.write(`${["time [s]", ...channels.map(heading)].join(",")}\n`),
    row: (timeS, values) => file.write(`${[timeS, ...values].join(",")}\n`),
    end: () => undefined,
  };
}

function heading({ id, unit }: RunChannel): string {
  return unit === "" ? id : `${id} [${unit}]`;
}

/** Everything: channels, rows, events, balance, statistics, fingerprint. SI. */
export function jsonWriter(file: WholeFile): TraceWriter {
  let separator = "";
  return {
    begin: ({ title, channels, file: { note } }) => {
      const columns = [
        { id: "time", kind: "truth", unit: "s" },
        ...channels.map(({ id, kind, unit }) => ({ id, kind, unit })),
      ];
      const head = { format: "brakeyard-trace", version: 1, title, ...(note === undefined ? {} : { note }), columns };
      file.write(`${JSON.stringify(head).slice(0, -1)},"rows":[`);
    },
    row: (timeS, values) => {
      file.write(`${separator}\n${JSON.stringify([timeS, ...values])}`);
      separator = ",";
    },
    end: (simulation, events) => {
      const rest = {
        status: { ok: true, ticks: simulation.tick },
        events,
        balance: simulation.balance(),
        statistics: simulation.statistics(),
        fingerprint: simulation.traceHash(),
      };
      file.write(`\n],${JSON.stringify(rest).slice(1)}\n`);
    },
  };
}

/** Time of a tick as written: hundredths exactly, never 0.30000000000000004. */
export function writtenTime(tick: number): number {
  return Number(tickTimeS(tick).toFixed(2));
}
