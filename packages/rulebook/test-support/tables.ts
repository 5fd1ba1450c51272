import { unitNames } from "@brakeyard/units";
import { BASES, CONDITIONS, FACTS, type KeyRule, SELECTORS, THINGS } from "../src/index.ts";

/** The tables of docs/rulebook-file.md, from the lists the code goes by. */
export function tables(): string {
  return [
    heading("What is read: `what`"),
    "| name | what | units |\n|---|---|---|",
    ...Object.entries(THINGS).map(([name, one]) => `| \`${name}\` | ${one.says} | ${units(one.kind)} |`),
    ...keyTable("Facts about a vehicle: `appliesTo`", FACTS),
    ...keyTable("Which thing exactly: `of`", SELECTORS),
    ...keyTable("Conditions: `measured`", CONDITIONS),
    heading("Figures of the vehicle or the test, for limits that are worked out"),
    "| name | units |\n|---|---|",
    ...Object.entries(BASES).map(([name, kind]) => `| \`${name}\` | ${units(kind)} |`),
  ].join("\n");
}

function heading(text: string): string {
  return `\n### ${text}\n`;
}

function units(kind: Parameters<typeof unitNames>[0]): string {
  return unitNames(kind).join(", ");
}

function keyTable(title: string, rules: Readonly<Record<string, KeyRule>>): string[] {
  const rows = Object.entries(rules).map(([name, rule]) => `| \`${name}\` | ${rule.says} | ${written(rule)} |`);
  return [heading(title), "| key | what | written |\n|---|---|---|", ...rows];
}

function written(rule: KeyRule): string {
  switch (rule.type) {
    case "choice":
      return rule.options.map((option) => `\`"${option}"\``).join(", ");
    case "range":
      return `bounds in ${units(rule.kind)}`;
    case "nominal":
      return `one figure in ${units(rule.kind)}`;
    case "count":
      return "a whole number or bounds";
    case "flag":
      return "`true` or `false`";
    case "date":
      return "days";
    case "name":
      return "a name";
    default:
      return "words, to be vouched for";
  }
}
