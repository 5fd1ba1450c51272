"""Air, orifices and rods, written down afresh from docs/references.md and the doc comments of packages/engine, for the
reference runs. State of every warm volume: mass and internal energy (the product keeps mass and pressure); of an isothermal
one: mass alone. So the two share the physics and no formula of the right-hand side.
"""

from math import sqrt

R = 287.05287
GAMMA = 1.4
CP = GAMMA * R / (GAMMA - 1.0)
CV = R / (GAMMA - 1.0)
RHO0 = 1.185
T0 = 293.15
LAMINAR = 0.005
STILL_K = 0.3
FREE_CONVECTION = 1.264
CORNER_PA = 6894.757293168361
HANDOVER_M = 0.0002


def flow_factor(u):
    """ISO 6358 in u = (1 - r)/(1 - b): sqrt(u (2 - u)), choked from 1 on, and below 0.005 the odd cubic that meets it in value and slope."""
    if u >= 1.0:
        return 1.0
    if u > LAMINAR:
        return sqrt(u * (2.0 - u))
    edge = sqrt(LAMINAR * (2.0 - LAMINAR))
    slope = (1.0 - LAMINAR) / edge
    cubic = (slope - edge / LAMINAR) / (2.0 * LAMINAR**2)
    return u * (edge / LAMINAR - cubic * LAMINAR**2 + cubic * u * u)


def orifice(conductance, b, pa, ta, pb, tb):
    """Mass flow from a to b, kg/s, and the temperature it carries."""
    if pa >= pb:
        u = (1.0 - pb / pa) / (1.0 - b)
        return conductance * RHO0 * pa * sqrt(T0 / ta) * flow_factor(u), ta
    u = (1.0 - pa / pb) / (1.0 - b)
    return -conductance * RHO0 * pb * sqrt(T0 / tb) * flow_factor(u), tb


def seat(travel_pa, width_pa):
    """Opening of a valve seat: 0 shut, 1 open, t^2 (3 - 2 t) between."""
    t = min(max(travel_pa / width_pa, 0.0), 1.0)
    return t * t * (3.0 - 2.0 * t)


def wall_heat(area, length, rho, t, wall):
    """Heat into the air by free convection, W: A c (rho^4 (dT^2 + 0.3^2))^(1/8) L^(-1/4) dT."""
    dt = wall - t
    return area * FREE_CONVECTION / length**0.25 * (rho**4 * (dt * dt + STILL_K**2)) ** 0.125 * dt


def ramp(x, half):
    """max(0, x) with its corner a parabola over +-half."""
    if x <= -half:
        return 0.0
    if x >= half:
        return x
    return (x + half) ** 2 / (4.0 * half)


class Law:
    """Stroke of the rod against the force on it: a broken line with rounded corners, as a sum of ramps."""

    def __init__(self, forces, strokes, slope_before, half):
        slopes = [(s1 - s0) / (f1 - f0) for f0, f1, s0, s1 in zip(forces, forces[1:], strokes, strokes[1:])]
        before = [slope_before] + slopes
        after = slopes + [0.0]
        self.corners = [(f, b - a) for f, a, b in zip(forces, before, after)]
        self.half = half

    def __call__(self, force):
        return sum(change * ramp(force - at, self.half) for at, change in self.corners)


class Rod:
    """One rod with service air behind it and, where there is one, a power spring held off by air."""

    def __init__(self, chamber, spring=None):
        a = self.area = chamber["areaM2"]
        contact = a * chamber["contactPa"]
        full, free = chamber["fullStrokeM"], chamber["freeStrokeM"]
        forces = [a * chamber["thresholdPa"], contact, contact + chamber["stiffnessNPerM"] * (full - free)]
        strokes = [0.0, free, full]
        self.service = Law(forces, strokes, 0.0, CORNER_PA * a)
        self.spring = spring
        if spring:
            k = spring["rateNPerM"]
            shifted = [f + k * s for f, s in zip(forces, strokes)]
            self.first = (strokes[1] - strokes[0]) / (shifted[1] - shifted[0])
            self.start = shifted[0]
            self.both = Law(shifted, strokes, self.first, CORNER_PA * a)

    def alone(self, service_gauge):
        return self.service(self.area * service_gauge)

    def together(self, service_gauge, spring_gauge):
        """Stroke of the rod, and of the power spring."""
        push = self.area * service_gauge
        net = self.spring["forceN"] - self.spring["areaM2"] * spring_gauge
        by_air = self.service(push)
        by_spring = self.both(push + net) + self.first * (push + net - self.start)
        stroke = by_spring + ramp(by_air - by_spring, HANDOVER_M)
        free = ramp(net, CORNER_PA * self.spring["areaM2"]) / self.spring["rateNPerM"]
        return stroke, stroke - ramp(stroke - free, HANDOVER_M)


def pressure_of(energy, volume_at, guess):
    """Solves p V(p) = (gamma - 1) U for one volume. It rises with p, but with corners: Newton's rule, held within a bracket."""
    low, high = 1e3, 1e7
    p = guess
    for _ in range(200):
        residual = p * volume_at(p) - (GAMMA - 1.0) * energy
        low, high = (p, high) if residual < 0.0 else (low, p)
        step = 1e-7 * p
        slope = ((p + step) * volume_at(p + step) - (p - step) * volume_at(p - step)) / (2.0 * step)
        change = residual / slope
        if not low < p - change < high:
            change = p - 0.5 * (low + high)
        p -= change
        if abs(change) <= 1e-14 * p:
            return p
    raise ArithmeticError("a chamber's pressure could not be found")
