export const HELP = `brakeyard: a working model of your own air-braked vehicle, without a screen

  brakeyard run RUN.json --out trace.csv|.json   run a vehicle as a run file says; events and balance are printed
  brakeyard vehicle check FILE                   accept or refuse a vehicle file, with the place and the remedy
  brakeyard vehicle summary FILE [--json]        tanks, chambers, rules on volume and build-up, where values come from
  brakeyard checks [--json] [--only ID]          hold the product against published cases, limits and other solvers
  brakeyard bench [--json] [--quick]             measure speed on this machine
  brakeyard COMMAND --help                       more on one of them
  brakeyard --version

A vehicle FILE may be fleet:ID for one of the demo fleet. Files: docs/vehicle-file.md, docs/run-file.md; to begin with: examples.
Exit codes: 0 all well; 1 a check did not hold, a bar was missed or a run could not go on; 2 something given is not right.
A teaching model. It is not an inspection instrument and says nothing about whether a real vehicle may be driven.`;

const RUN_HELP = `brakeyard run RUN.json --out trace.csv|.json

Runs what the run file says (docs/run-file.md) and writes the trace: the channels that the run file asks for, one row each time it asks for.
Vehicle files named in it are looked for from the run file's own folder.

  --out trace.csv    time and columns of numbers, SI, the unit in each heading
  --out trace.json   the same with events, balance of mass and energy, statistics and fingerprint

Events, balance, statistics and fingerprint are printed in either case. The same run gives the same fingerprint on every machine. The trace
appears whole or not at all; an older file of that name is replaced.

Exit codes: 0 written; 1 the run could not go on, or the disk did not take it; 2 something given is not right.`;

const VEHICLE_HELP = `brakeyard vehicle check FILE
brakeyard vehicle summary FILE [--json]

check accepts a vehicle file (docs/vehicle-file.md) or refuses it with everything found wrong, each with its place and what would be right.
summary shows tanks, chambers, the rules on tank volume and build-up, and which values are measured, from plates, or only typical.
FILE is a path, or fleet:ID for one of the demo fleet.

  --json   the summary as JSON

Exit codes: 0 accepted; 2 refused.`;

const CHECKS_HELP = `brakeyard checks [--json] [--only ID]

Holds the product against published cases, limits of standards, closed forms and other solvers. Each check prints its source, what was
expected, what came out, the tolerance, and the margin: error over tolerance, so that 1 is on the edge.

  --only ID   one check alone; may be given several times
  --json      everything as JSON

Exit codes: 0 all hold; 1 one does not; 2 no such check.`;

const BENCH_HELP = `brakeyard bench [--json] [--quick]

Measures on this machine, each figure beside its bar: seconds of the vehicle per second for a whole in-cab check of a two-axle bus and of ten
brakes; how much longer plain Runge-Kutta takes at the same accuracy; steps of an hour of leak-down; growth of the heap; size of the page's
first scripts. Takes some minutes. Works in a clone of the repository.

  --quick   smaller measurements, good for a first look only
  --json    everything as JSON

Exit codes: 0 all bars kept; 1 one missed.`;

/** Help on one command. */
export const HELP_ON: Readonly<Record<string, string>> = {
  run: RUN_HELP,
  vehicle: VEHICLE_HELP,
  checks: CHECKS_HELP,
  bench: BENCH_HELP,
};
