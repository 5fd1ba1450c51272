// `npm run reference [NAME ...]`: makes the stored reference runs again, with SciPy. Only people who change the inputs or the scripts need it.
import { spawnSync } from "node:child_process";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = path.dirname(fileURLToPath(import.meta.url));
const PROGRAMS = process.platform === "win32" ? ["py", "python"] : ["python3", "python"];

const python = PROGRAMS.find(
  (program) => spawnSync(program, ["-c", "import scipy.integrate"], { stdio: "ignore" }).status === 0,
);
if (python) {
  const script = path.join(here, "reference.py");
  const { status } = spawnSync(python, ["-B", script, ...process.argv.slice(2)], { stdio: "inherit" });
  process.exitCode = status ?? 1;
} else {
  process.stderr.write(
    "The reference runs need Python with SciPy: install Debian's python3-scipy, or `pip install scipy`.\n",
  );
  process.exitCode = 1;
}
