import { CV, GAS_CONSTANT } from "../numerics/gas.ts";
import type { Plan } from "./plan.ts";
import type { System } from "./system.ts";

/** Where air and its energy went since the start of a run. Masses kg, energies J. */
export interface Balance {
  readonly mass: {
    readonly start: number;
    readonly now: number;
    readonly in: number;
    readonly out: number;
    readonly error: number;
  };
  readonly energy: {
    readonly start: number;
    readonly now: number;
    /** Enthalpy that the compressors delivered, intake heat and shaft work together. */
    readonly in: number;
    /** Enthalpy blown off, less what was drawn in. */
    readonly out: number;
    /** Heat that went into walls. */
    readonly heat: number;
    /** Work done by the air on rods, springs and the outside air that they push away. */
    readonly work: number;
    readonly error: number;
  };
  /** Largest of the two errors over what moved or stood in the vehicle: dimensionless. */
  readonly relativeError: number;
}

/** Keeps the start of a run, to hold any later instant against it. */
export class Ledger {
  private readonly plan: Plan;
  private readonly system: System;
  private readonly rates: Float64Array;
  /** Air held at wall temperature takes the heat for the work it does from the wall, which the running sum of heat leaves out. */
  private readonly isothermal: boolean;
  private readonly startMass: number;
  private readonly startEnergy: number;
  private readonly startWork: number;

  constructor(plan: Plan, system: System, x: Float64Array) {
    this.plan = plan;
    this.system = system;
    this.rates = new Float64Array(plan.layout.stateCount);
    this.system.evaluate(x, this.rates);
    this.isothermal = plan.layout.massOf.every((at) => at < 0);
    this.startMass = this.mass(x);
    this.startEnergy = this.energy(x);
    this.startWork = this.work(x);
  }

  private mass(x: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < this.plan.layout.nodeCount; i++) sum += this.system.air.massKg(i, x);
    return sum;
  }

  private energy(x: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < this.plan.layout.nodeCount; i++)
      sum += (CV / GAS_CONSTANT) * x[i] * this.system.air.volumeM3[i];
    return sum;
  }

  /** Energy stored in rods and springs and spent on the open air, a function of where the rods stand. */
  private work(x: Float64Array): number {
    const { model, layout } = this.plan;
    const atmosphere = x[layout.atmosphere];
    let sum = 0;
    model.chambers.forEach((chamber, c) => {
      const rod = this.system.air.rods[c];
      sum += rod.workStored(chamber.spring ? x[chamber.spring.node] - atmosphere : 0);
      sum += atmosphere * chamber.areaM2 * rod.stroke;
      if (chamber.spring) sum -= atmosphere * chamber.spring.areaM2 * rod.springStroke;
    });
    return sum;
  }

  balance(x: Float64Array): Balance {
    const { audit } = this.plan.layout;
    this.system.evaluate(x, this.rates);
    const work = this.work(x) - this.startWork;
    const mass = { start: this.startMass, now: this.mass(x), in: x[audit.massIn], out: x[audit.massOut] };
    const energy = {
      start: this.startEnergy,
      now: this.energy(x),
      in: x[audit.enthalpyIn],
      out: x[audit.enthalpyOut],
      heat: x[audit.heatOut] - (this.isothermal ? work : 0),
      work,
    };
    const massError = mass.now - mass.start - mass.in + mass.out;
    const energyError = energy.now - energy.start - energy.in + energy.out + energy.heat + energy.work;
    const massScale = mass.start + Math.abs(mass.in) + Math.abs(mass.out);
    const energyScale = energy.start + Math.abs(energy.in) + Math.abs(energy.out);
    return {
      mass: { ...mass, error: massError },
      energy: { ...energy, error: energyError },
      relativeError: Math.max(Math.abs(massError) / massScale, Math.abs(energyError) / energyScale),
    };
  }
}
