/**
 * Older files are brought to the newest format one version at a time. A migration is numbered by the version it starts from and
 * is never changed once a Brakeyard with it has been released; examples/versions keeps one file of every version for ever.
 */

/** One step: from version `from` to `from + 1`. It works on checked JSON of version `from` and may not lose anything. */
export interface Migration {
  readonly from: number;
  /** What the step does, for the notes a reader gets. */
  readonly says: string;
  readonly step: (raw: Readonly<Record<string, unknown>>) => Record<string, unknown>;
}

/** Steps for vehicle files. Version 1 is the first, so there is none yet. */
export const vehicleMigrations: readonly Migration[] = [];

/** Steps for run files. Version 1 is the first, so there is none yet. */
export const runMigrations: readonly Migration[] = [];

/** Raw JSON in the newest version, and what was done to it. */
export interface Migrated {
  readonly raw: Record<string, unknown>;
  readonly notes: readonly string[];
}

/**
 * Brings raw JSON from the version it names to the newest.
 * @throws Error when a step is missing, which a test rules out
 */
export function migrate(raw: Record<string, unknown>, steps: readonly Migration[], newest: number): Migrated {
  const notes: string[] = [];
  let now = raw;
  for (let version = Number(raw.version); version < newest; version++) {
    const migration = steps.find((step) => step.from === version);
    if (!migration) throw new Error(`no migration from format version ${version}`);
    now = { ...migration.step(now), version: version + 1 };
    notes.push(`read from format version ${version}: ${migration.says}`);
  }
  return { raw: now, notes };
}
