"""Reference runs: SciPy's Radau at 1e-10, stopped and started afresh at every event and every jump of a control.

python3 checks/scipy/reference.py [NAME ...] writes checks/scipy/generated/NAME.json. Needs Debian's python3-scipy.
"""

import hashlib
import json
import sys
import time
from pathlib import Path

import scipy
from scipy.integrate import solve_ivp

from subsystems import ALL

HERE = Path(__file__).parent
TOLERANCE = 1e-10
POINTS = {"relay": 401, "equalise": 121, "governor": 201, "leakDown": 121, "springs": 241}


def fingerprint():
    """Of inputs and scripts together: a stored result that does not carry it is stale."""
    digest = hashlib.sha256()
    for name in ("subsystems.json", "air.py", "subsystems.py", "reference.py"):
        digest.update((HERE / name).read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


def event_functions(system):
    out = []
    for name, pressure, level, direction in system.events():
        if name in system.passed:
            continue
        function = lambda t, y, pressure=pressure, level=level: pressure(y) - level
        function.terminal, function.direction, function.level = True, direction, level
        out.append((name, function))
    return out


def event(name, function, moment, sol):
    """When, and how steeply the pressure went through the level: that sets how well the moment can be told."""
    back = 1e-4
    rate = (function(moment, sol(moment)) - function(moment, sol(moment - back))) / back
    return {"id": name, "timeS": moment, "pressurePa": function.level, "ratePaPerS": rate}


def stretch(system, t, y, until, grid, rows, happened):
    """One smooth stretch: to `until` or the first event, whichever comes first. Returns where it ended."""
    named = event_functions(system)
    scale = [max(abs(v), 1e-12) for v in y]
    answer = solve_ivp(
        system.rates, (t, until), y, method="Radau", rtol=TOLERANCE, atol=[TOLERANCE * s for s in scale],
        dense_output=True, events=[f for _, f in named] or None,
    )
    if not answer.success:
        raise SystemExit(f"Radau stopped: {answer.message}")
    end = answer.t[-1]
    for moment in grid:
        if t < moment <= end:
            rows[moment] = system.shown(answer.sol(moment))
    for (name, function), times in zip(named, answer.t_events or []):
        if len(times) > 0:
            happened.append(event(name, function, times[0], answer.sol))
            system.happened(name)
    return end, answer.y[:, -1]


def solve(name, inputs):
    system = ALL[name](inputs)
    t, y = 0.0, system.start()
    count = POINTS[name]
    grid = [round(system.end * i / (count - 1), 2) for i in range(count)]
    rows, happened = {0.0: system.shown(y)}, []
    cuts = [c for c in system.cuts() if c < system.end] + [system.end]
    while t < system.end:
        system.cuts_passed = sum(c <= t for c in cuts)
        until = cuts[system.cuts_passed]
        t, y = stretch(system, t, y, until, grid, rows, happened)
    nodes = list(rows[0.0])
    pressures = {n: [float(f"{rows[m][n]:.9e}") for m in grid] for n in nodes}
    return {"timesS": grid, "pressuresPa": pressures, "events": happened}


def main():
    inputs = json.loads((HERE / "subsystems.json").read_text())
    (HERE / "generated").mkdir(exist_ok=True)
    for name in sys.argv[1:] or ALL:
        started = time.perf_counter()
        result = {"subsystem": name, "solver": f"SciPy {scipy.__version__} Radau {TOLERANCE:g}", "made from": fingerprint()}
        result.update(solve(name, inputs))
        (HERE / "generated" / f"{name}.json").write_text(json.dumps(result) + "\n")
        print(f"{name}: {time.perf_counter() - started:.1f} s, {len(result['events'])} events", flush=True)


main()
