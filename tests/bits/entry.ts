/**
 * What must come out with the same bits in every JavaScript engine. Bundled into one script and run in each; it may use
 * nothing but the language itself. Each workload prints one line: its name and a fingerprint.
 */
import { engineWorkloads } from "./engine-workload.ts";
import { unitsWorkloads } from "./units-workload.ts";
import type { Workload } from "./workload.ts";

/** The shells and Node each print in their own way. */
declare const console: { log(line: string): void } | undefined;
declare const print: ((line: string) => void) | undefined;

const workloads: readonly Workload[] = [...unitsWorkloads, ...engineWorkloads()];

const say = typeof print === "function" ? print : (line: string): void => console?.log(line);

for (const { name, run } of workloads) say(`${name} ${run()}`);
