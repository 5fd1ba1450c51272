import { fromSi, type QuantityKind } from "@brakeyard/units";
import type { Quantity, VehicleSummary } from "@brakeyard/vehicle";

function written(quantity: Quantity): string {
  const { value, unit, from, low, high } = quantity.stored;
  const range = from === "typical" ? `, typical ${shown(low)} to ${shown(high)}` : `, ${from}`;
  return `${shown(value)} ${unit}${range}`;
}

/** Six figures: bounds that were worked out have more than anybody wrote down. */
function shown(value: number | undefined): string {
  return value === undefined ? "unknown" : String(Number(value.toPrecision(6)));
}

function inUnit(kind: QuantityKind, si: number, unit: string, digits: number): string {
  return `${fromSi(kind, si, unit).toFixed(digits)} ${unit}`;
}

/** What a person reads. */
export function summaryLines(summary: VehicleSummary): string[] {
  const { title, id, kind, built, counts } = summary;
  return [
    `${title} (${id}), ${kind}, built ${built}`,
    ...tankLines(summary),
    ...chamberLines(summary),
    ...ruleLines(summary),
    `Values: ${counts.measured} measured, ${counts.plate} from plates, ${counts.typical} typical.`,
    ...summary.assumptions.map((text) => `Taken as usual: ${text}.`),
  ];
}

function tankLines({ tanks }: VehicleSummary): string[] {
  if (tanks.length === 0) return ["No tanks."];
  return [
    "Tanks:",
    ...tanks.map((t) => `  ${t.id} (${t.role}): ${written(t.volume)}${t.counts ? "" : "; not counted by the rule"}`),
  ];
}

function chamberLines({ chambers }: VehicleSummary): string[] {
  if (chambers.length === 0) return ["No brakes of its own."];
  const line = (c: VehicleSummary["chambers"][number]): string => {
    const spring = c.spring === "none" ? "" : `/${c.spring} spring`;
    return `  ${c.name}: type ${c.type}${spring}, ${c.stroke} stroke, arm ${written(c.arm)}; rated volume ${written(c.ratedVolume)}`;
  };
  return ["Chambers:", ...chambers.map(line)];
}

function ruleLines({ tankRule, buildUp }: VehicleSummary): string[] {
  const lines: string[] = [];
  if (tankRule) {
    const { ratio, asks, source, reservoirsM3, chambersM3 } = tankRule;
    const volumes = `${inUnit("volume", reservoirsM3, "L", 1)} over ${inUnit("volume", chambersM3, "L", 2)}`;
    lines.push(`Tanks over chambers: ${ratio.toFixed(1)} (${volumes}); the rule asks ${asks}. ${source}.`);
  }
  if (buildUp) {
    const speeds = Object.entries(buildUp.sweptM3PerS).map(
      ([name, si]) => `${name} ${inUnit("airFlow", si, "ft3/min", 1)}`,
    );
    lines.push(`Compressor sweeps ${speeds.join(", ")}.`);
    lines.push(
      `85 to 100 psi may take ${buildUp.allowedS.toFixed(1)} s at the maker's highest speed. ${buildUp.source}.`,
    );
  }
  return lines;
}
