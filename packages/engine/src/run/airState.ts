import { GAMMA_AIR, GAS_CONSTANT, REFERENCE_TEMPERATURE_K } from "../numerics/gas.ts";
import { type CodeWriter, literal } from "../numerics/straightLine.ts";
import { RodBalance } from "../numerics/strokeLaw.ts";
import { freeConvectionFactor, STILL_K } from "../numerics/wallHeat.ts";
import type { Plan } from "./plan.ts";

const STILL_SQUARED = STILL_K * STILL_K;

/**
 * What follows from the states at one instant, node by node: volume, temperature, and their slopes. One per run; every array is
 * scratch that the next instant overwrites. Node number `nodeCount` is the open air.
 */
export class AirState {
  private readonly plan: Plan;
  /** Nodes that carry temperature, and where their mass stands in `x`. */
  readonly warmNodes: Int32Array;
  readonly warmMass: Int32Array;
  readonly temperatureK: Float64Array;
  /** sqrt(T0 / T), which ISO 6358 multiplies every flow from a node with. */
  readonly warmth: Float64Array;
  readonly volumeM3: Float64Array;
  /** Slope of volume by own pressure and by the other value of `Plan.otherOf`. */
  readonly volumeByOwn: Float64Array;
  readonly volumeByOther: Float64Array;
  /** Second slopes: own-own, own-other, other-other. Written by {@link updateCurvature}. */
  readonly volumeCurve: Float64Array;
  /** Heat from the wall, W, and the conductance that carries it. */
  readonly heatW: Float64Array;
  private readonly conductance: Float64Array;
  private readonly heatFactor: Float64Array;
  private readonly heatConstant: Float64Array;
  private readonly wallK: Float64Array;
  private readonly rigid: Float64Array;
  private readonly wetNodes: Int32Array;
  private readonly wetWater: Int32Array;
  readonly rods: readonly RodBalance[];
  private readonly serviceNode: Int32Array;
  private readonly springNode: Int32Array;

  constructor(plan: Plan) {
    const { model, layout } = plan;
    const n = model.nodes.length;
    const indices = model.nodes.map((_, i) => i);
    this.plan = plan;
    this.warmNodes = Int32Array.from(indices.filter((i) => layout.massOf[i] >= 0));
    this.warmMass = this.warmNodes.map((i) => layout.massOf[i]);
    const walls = [...model.nodes.map((node) => node.wallTemperatureK), model.atmosphere.temperatureK];
    this.temperatureK = Float64Array.from(walls);
    this.warmth = this.temperatureK.map((t) => Math.sqrt(REFERENCE_TEMPERATURE_K / t));
    this.volumeM3 = Float64Array.from(model.nodes, (node) => node.volumeM3);
    this.rigid = this.volumeM3.slice();
    this.volumeByOwn = new Float64Array(n);
    this.volumeByOther = new Float64Array(n);
    this.volumeCurve = new Float64Array(3 * n);
    this.heatW = new Float64Array(n);
    this.conductance = new Float64Array(n);
    const factor = model.nodes.map(({ heat }) =>
      heat.kind === "natural" ? freeConvectionFactor(heat.areaM2, heat.lengthM) : 0,
    );
    this.heatFactor = Float64Array.from(this.warmNodes, (i) => factor[i]);
    const constant = model.nodes.map(({ heat }) => (heat.kind === "constant" ? heat.conductanceWPerK : 0));
    this.heatConstant = Float64Array.from(this.warmNodes, (i) => constant[i]);
    this.wallK = Float64Array.from(model.nodes, (node) => node.wallTemperatureK);
    this.wetNodes = Int32Array.from(indices.filter((i) => model.nodes[i].water !== undefined));
    this.wetWater = this.wetNodes.map((i) => layout.waterOf[model.nodes[i].water ?? 0]);
    this.rods = model.chambers.map((c) => new RodBalance(c));
    this.serviceNode = Int32Array.from(model.chambers, (c) => c.serviceNode);
    this.springNode = Int32Array.from(model.chambers, (c) => c.spring?.node ?? -1);
    this.temperatureSlopes = new Float64Array(4 * (n + 1));
    for (const i of this.wetNodes) this.volumeByOther[i] = -1;
  }

  /** Works out everything from `x`. Returns false when a pressure, mass or volume is not positive (the step must shrink). */
  update(x: Float64Array): boolean {
    this.updateVolumes(x);
    return this.updatePressures(x) && this.updateTemperatures(x);
  }

  /** Volumes of the chambers from their pressures, of wet tanks from their water. */
  private updateVolumes(x: Float64Array): void {
    const { wetNodes, wetWater, rods, serviceNode, springNode, volumeM3, rigid, volumeByOwn, volumeByOther } = this;
    const atmosphere = x[this.plan.layout.atmosphere];
    for (let k = 0; k < wetNodes.length; k++) volumeM3[wetNodes[k]] = rigid[wetNodes[k]] - x[wetWater[k]];
    for (let c = 0; c < rods.length; c++) {
      const rod = rods[c];
      const v = serviceNode[c];
      const s = springNode[c];
      if (s < 0) rod.solveService(x[v] - atmosphere);
      else rod.solveBoth(x[v] - atmosphere, x[s] - atmosphere);
      const r = rod.result;
      const area = rod.area;
      volumeM3[v] = rigid[v] + area * r[0];
      volumeByOwn[v] = area * r[1];
      if (s < 0) continue;
      volumeByOther[v] = area * r[2];
      const b = rod.springArea;
      volumeM3[s] = rigid[s] - b * r[3];
      volumeByOwn[s] = -b * r[5];
      volumeByOther[s] = -b * r[4];
    }
  }

  /** Second slopes of the chamber volumes, which only the Jacobian needs. Call after {@link update} at the same values. */
  updateCurvature(): void {
    const { volumeCurve } = this;
    for (let c = 0; c < this.rods.length; c++) {
      const rod = this.rods[c];
      const v = this.serviceNode[c];
      const s = this.springNode[c];
      rod.solveCurvature();
      const q = rod.curvature;
      volumeCurve[3 * v] = rod.area * q[0];
      if (s < 0) continue;
      volumeCurve[3 * v + 1] = rod.area * q[1];
      volumeCurve[3 * v + 2] = rod.area * q[2];
      volumeCurve[3 * s] = -rod.springArea * q[5];
      volumeCurve[3 * s + 1] = -rod.springArea * q[4];
      volumeCurve[3 * s + 2] = -rod.springArea * q[3];
    }
  }

  private updatePressures(x: Float64Array): boolean {
    const { volumeM3 } = this;
    for (let i = 0; i < volumeM3.length; i++) if (!(x[i] > 0 && volumeM3[i] > 0)) return false;
    return true;
  }

  private updateTemperatures(x: Float64Array): boolean {
    const { warmNodes, warmMass, wallK, volumeM3, temperatureK, warmth, heatFactor, heatConstant, heatW, conductance } =
      this;
    for (let k = 0; k < warmNodes.length; k++) {
      const i = warmNodes[k];
      const mass = x[warmMass[k]];
      if (!(mass > 0)) return false;
      const volume = volumeM3[i];
      const t = (x[i] * volume) / (mass * GAS_CONSTANT);
      const dt = wallK[i] - t;
      temperatureK[i] = t;
      warmth[i] = Math.sqrt(REFERENCE_TEMPERATURE_K / t);
      const factor = heatFactor[k];
      let h = heatConstant[k];
      if (factor > 0) {
        const square = (mass * mass) / (volume * volume);
        h = factor * Math.sqrt(Math.sqrt(Math.sqrt(square * square * (dt * dt + STILL_SQUARED))));
      }
      conductance[i] = h;
      heatW[i] = h * dt;
    }
    return true;
  }

  /** The same as {@link update} as code; `bad` is set to 1 where update returns false. */
  write(code: CodeWriter, bad: string): void {
    const v = code.bind(this.volumeM3);
    this.writeVolumes(code, v);
    for (let i = 0; i < this.volumeM3.length; i++) code.line(`if(!(x[${i}]>0&&${v}[${i}]>0))${bad}[0]=1;`);
    const t = code.bind(this.temperatureK);
    const z = code.bind(this.warmth);
    const g = code.bind(this.conductance);
    const q = code.bind(this.heatW);
    this.warmNodes.forEach((i, k) => {
      const m = this.warmMass[k];
      const gas = literal(GAS_CONSTANT);
      const factor = this.heatFactor[k];
      const h =
        factor > 0
          ? `${literal(factor)}*Math.sqrt(Math.sqrt(Math.sqrt(s*s*(d*d+${literal(STILL_SQUARED)}))))`
          : literal(this.heatConstant[k]);
      code.line(
        `{const m=x[${m}];if(!(m>0))${bad}[0]=1;const v=${v}[${i}];const t=(x[${i}]*v)/(m*${gas});const d=${literal(this.wallK[i])}-t;` +
          `${t}[${i}]=t;${z}[${i}]=Math.sqrt(${literal(REFERENCE_TEMPERATURE_K)}/t);` +
          `const s=(m*m)/(v*v);const h=${h};${g}[${i}]=h;${q}[${i}]=h*d;}`,
      );
    });
  }

  private writeVolumes(code: CodeWriter, v: string): void {
    const own = code.bind(this.volumeByOwn);
    const other = code.bind(this.volumeByOther);
    const air = `x[${this.plan.layout.atmosphere}]`;
    this.wetNodes.forEach((i, k) => {
      code.line(`${v}[${i}]=${literal(this.rigid[i])}-x[${this.wetWater[k]}];`);
    });
    this.rods.forEach((rod, c) => {
      const i = this.serviceNode[c];
      const s = this.springNode[c];
      const r = code.bind(rod.result);
      const a = literal(rod.area);
      const b = literal(rod.springArea);
      const lines = rod.lines(`x[${i}]-${air}`, s < 0 ? undefined : `x[${s}]-${air}`, r);
      lines.push(`${v}[${i}]=${literal(this.rigid[i])}+${a}*${r}[0];${own}[${i}]=${a}*${r}[1];`);
      if (s >= 0) {
        lines.push(`${other}[${i}]=${a}*${r}[2];${v}[${s}]=${literal(this.rigid[s])}-${b}*${r}[3];`);
        lines.push(`${own}[${s}]=-${b}*${r}[5];${other}[${s}]=-${b}*${r}[4];`);
      }
      code.line(`{${lines.join("")}}`);
    });
  }

  /** Slope of the wall's heat by gas temperature, W/K, of the k-th warm node; density held. */
  heatByTemperature(k: number): number {
    const i = this.warmNodes[k];
    const dt = this.wallK[i] - this.temperatureK[i];
    const share = this.heatFactor[k] > 0 ? (0.25 * dt * dt) / (dt * dt + STILL_SQUARED) : 0;
    return -this.conductance[i] * (1 + share);
  }

  /** Slope of the wall's heat by the logarithm of density, W, of the k-th warm node. */
  heatByDensity(k: number): number {
    return this.heatFactor[k] > 0 ? 0.5 * this.heatW[this.warmNodes[k]] : 0;
  }

  /** Air mass of a node, kg. */
  massKg(i: number, x: Float64Array): number {
    const m = this.plan.layout.massOf[i];
    return m >= 0 ? x[m] : (x[i] * this.volumeM3[i]) / (GAS_CONSTANT * this.wallK[i]);
  }

  /** Ratio that stands for 1.4 in a node that carries temperature and 1 in an isothermal one. */
  exponent(i: number): number {
    return this.plan.layout.massOf[i] >= 0 ? GAMMA_AIR : 1;
  }

  /**
   * Slopes of every node's temperature, four to a node: nothing, by own pressure, by mass, by the other value. The first is always
   * zero, so that a column that does not move a node's temperature may point at it.
   */
  readonly temperatureSlopes: Float64Array;

  /** Writes {@link temperatureSlopes}. Call after {@link update} at the same values. */
  updateTemperatureSlopes(x: Float64Array): void {
    const { warmNodes, warmMass, temperatureK, volumeM3, volumeByOwn, volumeByOther, temperatureSlopes } = this;
    for (let k = 0; k < warmNodes.length; k++) {
      const i = warmNodes[k];
      const t = temperatureK[i];
      temperatureSlopes[4 * i + 1] = t * (1 / x[i] + volumeByOwn[i] / volumeM3[i]);
      temperatureSlopes[4 * i + 2] = -t / x[warmMass[k]];
      temperatureSlopes[4 * i + 3] = (t * volumeByOther[i]) / volumeM3[i];
    }
  }
}
