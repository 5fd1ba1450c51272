export const HELP = `brakeyard: a working model of your own air-braked vehicle, without a screen

  brakeyard run RUN.json --out trace.csv|.json   run a vehicle as a run file says; events and balance are printed
  brakeyard vehicle check FILE                   accept or refuse a vehicle file, with the place and the remedy
  brakeyard vehicle summary FILE [--json]        tanks, chambers, rules on volume and build-up, where values come from
  brakeyard checks [--json] [--only ID]          hold the product against published cases, limits and other solvers
  brakeyard bench [--json] [--quick]             measure speed on this machine
  brakeyard --help, --version

A vehicle FILE may be fleet:ID for one of the demo fleet. Files: docs/vehicle-file.md, docs/run-file.md.
Exit codes: 0 all well; 1 a check did not hold or a run could not go on; 2 something given is not right.
A teaching model. It is not an inspection instrument and says nothing about whether a real vehicle may be driven.`;
