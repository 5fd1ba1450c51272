import { toSi } from "@brakeyard/units";
import type { FaultSpec, FaultWhat, LeakSize } from "../assemble/options.ts";
import { type PathParts, type Problem, problem } from "../text/problem.ts";
import type { FaultFile } from "./faultSchema.ts";

/** Faults of a run file as the assembly wants them, or what is wrong with them. */
export function faultSpecs(faults: readonly FaultFile[]): { specs: FaultSpec[]; problems: Problem[] } {
  const problems = faults.flatMap((fault, i) => checkFault(fault, faults, i));
  return { specs: problems.length > 0 ? [] : faults.map((fault) => ({ ...what(fault), name: fault.name })), problems };
}

function checkFault(fault: FaultFile, all: readonly FaultFile[], index: number): Problem[] {
  const path: PathParts = ["faults", index];
  const problems = leaks(fault) ? checkLeakSize(fault, path) : [];
  if (fault.onsetS !== undefined && fault.onsetTick !== undefined) {
    problems.push(problem([...path, "onsetTick"], "the onset is given twice", "keep onsetS or onsetTick"));
  }
  if (all.findIndex((one) => one.name === fault.name) < index) {
    problems.push(
      problem([...path, "name"], `"${fault.name}" names another fault already`, "give each fault a name of its own"),
    );
  }
  return problems;
}

function leaks(fault: FaultFile): boolean {
  return fault.fault === "leak" || fault.fault === "tornServiceDiaphragm" || fault.fault === "springSideLeak";
}

function checkLeakSize(fault: FaultFile, path: PathParts): Problem[] {
  const remedy = 'write "hole", or "rate" with "atPressure"';
  if (fault.hole && fault.rate) return [problem([...path, "rate"], "the size is given twice", remedy)];
  if (fault.hole) {
    const extra = fault.atPressure ? "atPressure" : fault.volume ? "volume" : undefined;
    return extra ? [problem([...path, extra], "it belongs to a rate, and a hole is given", remedy)] : [];
  }
  if (!fault.rate) return [problem([...path, "hole"], "the size of the leak is missing", remedy)];
  return fault.atPressure ? [] : [problem([...path, "atPressure"], "missing: a rate holds at one pressure", remedy)];
}

type Written = { readonly value: number; readonly unit: string } | undefined;

function si(kind: Parameters<typeof toSi>[0], written: Written): number {
  return toSi(kind, written?.value ?? Number.NaN, written?.unit ?? "");
}

function leakSize(fault: FaultFile): LeakSize {
  if (fault.hole) return { holeM: si("length", fault.hole) };
  return {
    ratePaPerS: si("pressureRate", fault.rate),
    atGaugePa: si("pressure", fault.atPressure),
    ...(fault.volume && { volumeM3: si("volume", fault.volume) }),
  };
}

function what(fault: FaultFile): FaultWhat {
  const where = fault.where ?? "";
  switch (fault.fault) {
    case "leak":
    case "tornServiceDiaphragm":
    case "springSideLeak":
      return { kind: fault.fault, where, size: leakSize(fault) };
    case "burst":
      return { kind: "burst", where, boreM: si("length", fault.bore) };
    case "governorStuck":
      return { kind: fault.at === "loaded" ? "governorStuckLoaded" : "governorStuckUnloaded" };
    case "compressorDead":
      return { kind: "compressorWeak", lost: 1 };
    case "compressorWeak":
      return { kind: "compressorWeak", lost: si("ratio", fault.lost) };
    case "relayExhaustLeaks":
      return { kind: fault.fault, where, holeM: si("length", fault.hole) };
    case "relayCracksHigh":
    case "gaugeReadsHigh":
      return { kind: fault.fault, where, byPa: si("pressure", fault.by) };
    case "footValveExhaustBlocked":
      return { kind: fault.fault, share: si("ratio", fault.share) };
    case "lowAirSwitchLow":
      return { kind: fault.fault, where, closesBelowPa: si("pressure", fault.closesBelow) };
    default:
      return { kind: fault.fault, ...(fault.where !== undefined && { where }) } as FaultWhat;
  }
}
