"""Writes the values that exactmath is held against: 60 digits by mpmath, stored as the nearest double and what it lacks.

Run from the top of the repository, with mpmath installed:
    python3 bench/reference/exactmath.py
"""
import json
import random
from pathlib import Path

import mpmath as mp

mp.mp.dps = 60
draw = random.Random(20250101)
OUT = Path(__file__).resolve().parents[2] / "packages/units/src/exactmath/reference.json"


def two(value):
    high = float(value)
    return [high, float(value - mp.mpf(high))]


def spread(low, high):
    """A number whose logarithm is evenly spread."""
    return float(mp.e ** draw.uniform(low, high))


def sign():
    return draw.choice([-1.0, 1.0])


exp_args = [0.0, 1.0, -1.0, 0.5, -0.5, 1e-300, -1e-17, 709.782712893384, -708.0, 0.34657359027997264, -0.34657359027997264]
exp_args += [draw.uniform(-700, 700) for _ in range(40)] + [draw.uniform(-1, 1) for _ in range(40)]
log_args = [1.0, 2.0, 0.5, 10.0, 5e-324, 1.7976931348623157e308, 1.4142135623730951, 1.414213562373095, 0.9999999999999999]
log_args += [spread(-700, 700) for _ in range(40)] + [1 + draw.uniform(-0.1, 0.1) for _ in range(40)]
pow_args = [(2.0, 0.5), (2.0, -0.5), (10.0, 300.0), (0.7519, 5.2558797), (1.4, 3.5), (1.0000001, 1e9), (4.0, 0.2857142857142857)]
pow_args += [(spread(-50, 50), draw.uniform(-13, 13)) for _ in range(40)] + [(draw.uniform(0.1, 3), draw.uniform(-8, 8)) for _ in range(40)]
turn_args = [0.5, 1.0, 0.7853981633974483, 1.5707963267948966, 3.141592653589793, 6.283185307179586, 1048576.0, 1e-9]
turn_args += [draw.uniform(-10, 10) for _ in range(40)] + [draw.uniform(-1048576, 1048576) for _ in range(40)]
atan2_args = [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (0.0625, 1.0), (0.0626, 1.0), (1.0, 16.0)]
atan2_args += [(draw.uniform(-1, 1), draw.uniform(-1, 1)) for _ in range(60)] + [(sign() * spread(-90, 90), sign() * spread(-90, 90)) for _ in range(20)]
cbrt_args = [1.0, 8.0, 27.0, -27.0, 0.125, 5e-324, 1.7976931348623157e308, 7.999999999999999, 8.000000000000002]
cbrt_args += [sign() * spread(-700, 700) for _ in range(60)]

values = {
    "exp": [[x, *two(mp.exp(mp.mpf(x)))] for x in exp_args],
    "log": [[x, *two(mp.log(mp.mpf(x)))] for x in log_args],
    "pow": [[x, y, *two(mp.power(mp.mpf(x), mp.mpf(y)))] for x, y in pow_args],
    "sin": [[x, *two(mp.sin(mp.mpf(x)))] for x in turn_args],
    "cos": [[x, *two(mp.cos(mp.mpf(x)))] for x in turn_args],
    "atan2": [[y, x, *two(mp.atan2(mp.mpf(y), mp.mpf(x)))] for y, x in atan2_args],
    "cbrt": [[x, *two(mp.sign(x) * mp.cbrt(abs(mp.mpf(x))))] for x in cbrt_args],
}

lines = [f'  "{name}": [\n' + ",\n".join("    " + json.dumps(row) for row in rows) + "\n  ]" for name, rows in values.items()]
OUT.write_text("{\n" + ",\n".join(lines) + "\n}\n", newline="\n")
print(f"{OUT.name}: {sum(len(rows) for rows in values.values())} values, mpmath {mp.__version__}")
