import { unitNames } from "@brakeyard/units";
import { catalogue } from "../src/parts/catalogue.ts";
import type { Field } from "../src/parts/part.ts";

/** The tables of docs/vehicle-file.md: every value of every part, its unit, what is taken when it is left out, and why. */
export function partTables(): string {
  return catalogue
    .map(({ where, title, part }) => [`#### ${title}`, "", `\`${where}\``, "", ...table(part.fields), ""].join("\n"))
    .join("\n");
}

function table(fields: Readonly<Record<string, Field>>): string[] {
  const rows = Object.entries(fields).map(
    ([key, field]) => `| \`${key}\` | ${field.label} | ${kind(field)} | ${typical(field)} |`,
  );
  return ["| key | what | written in | left out |", "|---|---|---|---|", ...rows];
}

function kind(field: Field): string {
  if (field.type === "choice") return field.options.map((option) => `\`${option}\``).join(", ");
  const { least, most, unit } = field.rule;
  return `${unitNames(field.rule.kind).join(", ")}; ${least} to ${most}${unit === "1" ? "" : ` ${unit}`}`;
}

function typical(field: Field): string {
  if (field.type === "open") return "nothing";
  if (!field.typical) return "**must be given**";
  if (field.type === "choice") return `\`${field.typical.value}\`; ${field.typical.source}`;
  const { value, low, high, source } = field.typical;
  return `${value}${field.rule.unit === "1" ? "" : ` ${field.rule.unit}`} (${low} to ${high}); ${source}`;
}
