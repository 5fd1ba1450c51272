"""The five subsystems: state, rates, pressures, events. Each class is one."""

from air import CP, CV, GAMMA, R, Rod, orifice, pressure_of, seat, wall_heat


class Tank:
    """A rigid volume with mass and energy at `at` and `at + 1` of the state."""

    def __init__(self, at, volume, wall_area=0.0, length=1.0, conductance=None):
        self.at, self.volume, self.area, self.length, self.conductance = at, volume, wall_area, length, conductance

    def read(self, y):
        m, u = y[self.at], y[self.at + 1]
        return (GAMMA - 1.0) * u / self.volume, u / (CV * m)

    def heat(self, y, wall):
        m, u = y[self.at], y[self.at + 1]
        t = u / (CV * m)
        if self.conductance is not None:
            return self.conductance * (wall - t)
        return wall_heat(self.area, self.length, m / self.volume, t, wall)

    def start(self, pressure, t):
        return [pressure * self.volume / (R * t), pressure * self.volume / (GAMMA - 1.0)]


class Subsystem:
    """Defaults: no discrete state, no events."""

    def __init__(self, inputs, name):
        self.p = inputs[name]
        self.pa, self.tw = inputs["atmospherePa"], inputs["temperatureK"]
        self.b = self.p["criticalRatio"]
        self.end = self.p["endS"]
        self.passed = set()
        self.cuts_passed = 0  # fixed within a stretch: an implicit stage at its end must not see what comes after

    def cuts(self):
        """Times at which a control jumps."""
        return []

    def events(self):
        """(name, pressure as a function of y, level, direction): where a run stops, is noted and goes on."""
        return []

    def happened(self, name):
        """An event may change the discrete state. A watched level counts once, or the restart on it would find it again."""
        self.passed.add(name)

    def flow(self, c, a, b):
        return orifice(c, self.b, a[0], a[1], b[0], b[1])


class Relay(Subsystem):
    def __init__(self, inputs):
        super().__init__(inputs, "relay")
        t = self.p["tank"]
        self.tank = Tank(0, t["volumeM3"], t["wallM2"], t["lengthM"])
        self.rod = Rod(self.p["chamber"])

    def start(self):
        c = self.p["chamber"]
        line = lambda v: [self.pa * v / (R * self.tw)]
        chamber = Tank(4, c["deadM3"]).start(self.pa, self.tw)
        tank = self.tank.start(self.pa + self.p["tank"]["gaugePa"], self.tw)
        return tank + line(self.p["controlLineM3"]) + line(self.p["deliveryLineM3"]) + chamber

    def chamber_volume(self, p):
        c = self.p["chamber"]
        return c["deadM3"] + c["areaM2"] * self.rod.alone(p - self.pa)

    def read(self, y):
        p = self.p
        tank = self.tank.read(y)
        control = (y[2] * R * self.tw / p["controlLineM3"], self.tw)
        delivery = (y[3] * R * self.tw / p["deliveryLineM3"], self.tw)
        pressure = pressure_of(y[5], self.chamber_volume, delivery[0])
        return tank, control, delivery, (pressure, y[5] / (CV * y[4]))

    def rates(self, t, y):
        p, v = self.p, self.p["valve"]
        tank, control, delivery, chamber = self.read(y)
        air = (self.pa, self.tw)
        filling, venting = self.cuts_passed == 1, self.cuts_passed == 2
        signal = v["gain"] * (control[0] - self.pa)
        gauge = delivery[0] - self.pa
        w1, h1 = self.flow(p["controlFill"] if filling else 0.0, tank, control)
        w2, _ = self.flow(p["controlVent"] if venting else 0.0, control, air)
        w3, h3 = self.flow(v["inlet"] * seat(signal - v["crackPa"] - gauge, v["seatPa"]), tank, delivery)
        w4, _ = self.flow(v["exhaust"] * seat(gauge + v["crackPa"] - v["hysteresisPa"] - signal, v["seatPa"]), delivery, air)
        w5, h5 = self.flow(p["hose"], delivery, chamber)
        c = p["chamber"]
        rho = y[4] / self.chamber_volume(chamber[0])
        heat = wall_heat(c["wallM2"], c["lengthM"], rho, chamber[1], self.tw)
        out_of_tank = -w1 * CP * h1 - w3 * CP * h3 + self.tank.heat(y, self.tw)
        # The chamber works against its rod: dU = H + Q - p dV, with dV from dp; see chamber_energy.
        return [-w1 - w3, out_of_tank, w1 - w2, w3 - w4 - w5, w5, self.chamber_energy(chamber[0], w5 * CP * h5 + heat)]

    def chamber_energy(self, p, supplied):
        """dU/dt when H + Q = supplied: U = p V/(g-1), so dp = (g-1) supplied / (V + g p V'), dU = supplied - p V' dp."""
        step = 1e-6 * p
        slope = (self.chamber_volume(p + step) - self.chamber_volume(p - step)) / (2.0 * step)
        dp = (GAMMA - 1.0) * supplied / (self.chamber_volume(p) + GAMMA * p * slope)
        return supplied - p * slope * dp

    def cuts(self):
        return [self.p["applyS"], self.p["releaseS"]]

    def events(self):
        level = self.pa + 413685.0
        chamber = lambda y: self.read(y)[3][0]
        return [("chamber60Up", chamber, level, 1), ("chamber60Down", chamber, level, -1)]

    def shown(self, y):
        return dict(zip(["tank", "control", "delivery", "chamber.service"], (s[0] for s in self.read(y))))


class Equalise(Subsystem):
    def __init__(self, inputs):
        super().__init__(inputs, "equalise")
        self.tanks = [
            Tank(2 * i, t["volumeM3"], t["wallM2"], t["lengthM"]) for i, t in enumerate([self.p["first"], self.p["second"]])
        ]

    def start(self):
        given = [self.p["first"], self.p["second"]]
        return sum((t.start(self.pa + g["gaugePa"], self.tw) for t, g in zip(self.tanks, given)), [])

    def rates(self, t, y):
        one, two = self.tanks
        w, h = self.flow(self.p["conductance"], one.read(y), two.read(y))
        return [-w, -w * CP * h + one.heat(y, self.tw), w, w * CP * h + two.heat(y, self.tw)]

    def shown(self, y):
        return {"first": self.tanks[0].read(y)[0], "second": self.tanks[1].read(y)[0]}


class Governor(Subsystem):
    def __init__(self, inputs):
        super().__init__(inputs, "governor")
        d, t = self.p["discharge"], self.p["tank"]
        self.discharge = Tank(0, d["volumeM3"], conductance=d["conductanceWPerK"])
        self.tank = Tank(2, t["volumeM3"], t["wallM2"], t["lengthM"])
        self.loaded = True

    def start(self):
        at = self.pa + self.p["tank"]["gaugePa"]
        return self.discharge.start(at, self.tw) + self.tank.start(at, self.tw)

    def compressor(self, against):
        """kg/s and K: Q = Vd N B(N) (1 + c - c x^(1/1.3)); the two powers in the product's published rational form."""
        c = self.p["compressor"]
        s = against / self.pa - 1.0
        volume_ratio = (1 + s * (1.239783673 + s * (0.3007990403 + s * 0.007826758134))) / (
            1 + s * (0.4711563868 + s * 0.02399925513)
        )
        warmth = (1 + s * (0.897722225 + s * (0.1262878204 + s * 0.0008006097696))) / (
            1 + s * (0.6675763484 + s * 0.05783873122)
        )
        n = c["rpm"]
        filling = 0.945 - n * (3.75e-5 + 9.2e-9 * n)
        swept = c["displacementM3"] * n / 60.0 * filling * (1 + c["clearanceRatio"] * (1 - volume_ratio))
        return self.pa / (R * self.tw) * swept, self.tw * warmth

    def rates(self, t, y):
        p, k = self.p, self.p["check"]
        discharge, tank = self.discharge.read(y), self.tank.read(y)
        w1, t1 = self.compressor(discharge[0]) if self.loaded else (0.0, self.tw)
        opening = seat(discharge[0] - tank[0] - k["crackPa"], k["openingPa"])
        w2, t2 = self.flow(k["conductance"] * opening, discharge, tank)
        w3, t3 = self.flow(p["leak"], tank, (self.pa, self.tw))
        return [
            w1 - w2,
            CP * (w1 * t1 - w2 * t2) + self.discharge.heat(y, self.tw),
            w2 - w3,
            CP * (w2 * t2 - w3 * t3) + self.tank.heat(y, self.tw),
        ]

    def events(self):
        tank = lambda y: self.tank.read(y)[0]
        if self.loaded:
            return [("cutOut", tank, self.pa + self.p["cutOutPa"], 1)]
        return [("cutIn", tank, self.pa + self.p["cutInPa"], -1)]

    def happened(self, name):
        self.loaded = name == "cutIn"

    def shown(self, y):
        return {"discharge": self.discharge.read(y)[0], "tank": self.tank.read(y)[0]}


class LeakDown(Subsystem):
    def __init__(self, inputs):
        super().__init__(inputs, "leakDown")
        t = self.p["tank"]
        self.tank = Tank(0, t["volumeM3"], t["wallM2"], t["lengthM"])

    def start(self):
        return self.tank.start(self.pa + self.p["tank"]["gaugePa"], self.tw)

    def rates(self, t, y):
        w, h = self.flow(self.p["leak"], self.tank.read(y), (self.pa, self.tw))
        return [-w, -w * CP * h + self.tank.heat(y, self.tw)]

    def events(self):
        tank = lambda y: self.tank.read(y)[0]
        return [(f"tank{i}", tank, self.pa + level, -1) for i, level in enumerate(self.p["watchedGaugePa"])]

    def shown(self, y):
        return {"tank": self.tank.read(y)[0]}


class Springs(Subsystem):
    """Tank, and one spring brake chamber: service side open to the air through an orifice, spring side hung on the tank."""

    def __init__(self, inputs):
        super().__init__(inputs, "springs")
        t = self.p["tank"]
        self.tank = Tank(0, t["volumeM3"], t["wallM2"], t["lengthM"])
        self.rod = Rod(self.p["chamber"], self.p["spring"])
        self.guess = None

    def volumes(self, service, spring):
        c, s = self.p["chamber"], self.p["spring"]
        stroke, out = self.rod.together(service - self.pa, spring - self.pa)
        return c["deadM3"] + c["areaM2"] * stroke, s["deadM3"] + s["areaM2"] * (c["fullStrokeM"] - out)

    def start(self):
        held = self.pa + self.p["tank"]["gaugePa"]
        v, s = self.volumes(self.pa, held)
        warm = lambda p, volume: [p * volume / (R * self.tw), p * volume / (GAMMA - 1.0)]
        self.guess = (self.pa, held)
        return self.tank.start(held, self.tw) + warm(self.pa, v) + warm(held, s)

    def residuals(self, a, b, y):
        va, vb = self.volumes(a, b)
        return a * va - (GAMMA - 1.0) * y[3], b * vb - (GAMMA - 1.0) * y[5]

    def pressures(self, y):
        """Solves p V = (g - 1) U for both sides at once, each volume depending on both pressures: Newton's rule with halving."""
        a, b = self.guess
        size = lambda r: abs(r[0] / y[3]) + abs(r[1] / y[5])
        ra, rb = self.residuals(a, b, y)
        for _ in range(200):
            va, vb = self.volumes(a, b)
            (saa, sba), (sab, sbb) = self.slopes(a, b)
            jaa, jab, jba, jbb = va + a * saa, a * sab, b * sba, vb + b * sbb
            det = jaa * jbb - jab * jba
            da, db = (ra * jbb - rb * jab) / det, (rb * jaa - ra * jba) / det
            share = 1.0
            while share > 1e-6:
                na, nb = a - share * da, b - share * db
                if na > 0.0 and nb > 0.0:
                    tried = self.residuals(na, nb, y)
                    if size(tried) < size((ra, rb)) or abs(da) + abs(db) <= 1e-12 * (a + b):
                        break
                share *= 0.5
            a, b, (ra, rb) = na, nb, tried
            if abs(da) <= 1e-12 * a and abs(db) <= 1e-12 * b:
                self.guess = (a, b)
                return a, b
        raise ArithmeticError(f"the two pressures of a spring brake chamber could not be found near {a:.0f}, {b:.0f} Pa")

    def slopes(self, a, b):
        """((dVa/da, dVb/da), (dVa/db, dVb/db)) by central differences."""
        out = []
        for step_a, step_b in ((1e-6 * a, 0.0), (0.0, 1e-6 * b)):
            up, down = self.volumes(a + step_a, b + step_b), self.volumes(a - step_a, b - step_b)
            width = 2.0 * (step_a + step_b)
            out.append(((up[0] - down[0]) / width, (up[1] - down[1]) / width))
        return out

    def read(self, y):
        a, b = self.pressures(y)
        return self.tank.read(y), (a, y[3] / (CV * y[2])), (b, y[5] / (CV * y[4]))

    def rates(self, t, y):
        p, c, s = self.p, self.p["chamber"], self.p["spring"]
        tank, service, spring = self.read(y)
        air = (self.pa, self.tw)
        w1, t1 = self.flow(p["bleed"], tank, air)
        w2, t2 = self.flow(p["hose"], tank, spring)
        w3, t3 = self.flow(p["serviceVent"], service, air)
        va, vb = self.volumes(service[0], spring[0])
        ha = -CP * w3 * t3 + wall_heat(c["wallM2"], c["lengthM"], y[2] / va, service[1], self.tw)
        hb = CP * w2 * t2 + wall_heat(s["wallM2"], s["lengthM"], y[4] / vb, spring[1], self.tw)
        ua, ub = self.energies(service[0], spring[0], va, vb, ha, hb)
        return [-w1 - w2, -CP * (w1 * t1 + w2 * t2) + self.tank.heat(y, self.tw), -w3, ua, w2, ub]

    def energies(self, a, b, va, vb, ha, hb):
        """dU of both sides: first the rates of pressure from V dp + g p dV = (g - 1) H, then dU = H - p dV."""
        (saa, sba), (sab, sbb) = self.slopes(a, b)
        maa, mab = va + GAMMA * a * saa, GAMMA * a * sab
        mba, mbb = GAMMA * b * sba, vb + GAMMA * b * sbb
        ra, rb = (GAMMA - 1.0) * ha, (GAMMA - 1.0) * hb
        det = maa * mbb - mab * mba
        da, db = (ra * mbb - rb * mab) / det, (rb * maa - ra * mba) / det
        return ha - a * (saa * da + sab * db), hb - b * (sba * da + sbb * db)

    def events(self):
        spring = lambda y: self.pressures(y)[1]
        return [(f"spring{i}", spring, self.pa + level, -1) for i, level in enumerate(self.p["watchedGaugePa"])]

    def shown(self, y):
        return dict(zip(["tank", "rear.service", "rear.spring"], (s[0] for s in self.read(y))))


ALL = {"relay": Relay, "equalise": Equalise, "governor": Governor, "leakDown": LeakDown, "springs": Springs}
