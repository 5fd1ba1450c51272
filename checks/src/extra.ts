import { type EngineModel, type LineParams, lineVolumeM3, tubeFlow } from "@brakeyard/engine";

/** The number of a node by its name. */
export function nodeNumber(model: EngineModel, name: string): number {
  const index = model.nodes.findIndex((node) => node.name === name);
  if (index < 0) throw new Error(`there is no node "${name}"`);
  return index;
}

/** A model with more volume at a node: a test reservoir screwed straight on. */
export function addToNode(model: EngineModel, name: string, volumeM3: number): EngineModel {
  const at = nodeNumber(model, name);
  return {
    ...model,
    nodes: model.nodes.map((node, i) => (i === at ? { ...node, volumeM3: node.volumeM3 + volumeM3 } : node)),
  };
}

/** A model with a pipe and a load hung on a node; the load is the new node `load`, and holds the pipe's air too. */
export function hangLoad(model: EngineModel, name: string, pipe: LineParams, loadM3: number): EngineModel {
  const from = nodeNumber(model, name);
  const node = { ...model.nodes[from]!, name: "load", isothermal: true, volumeM3: loadM3 + lineVolumeM3(pipe) };
  const to = model.nodes.length;
  return {
    ...model,
    nodes: [...model.nodes, node],
    orifices: [...model.orifices, { name: "loadPipe", from, to, ...tubeFlow(pipe), gates: [], factors: [] }],
    channels: [
      ...model.channels,
      { id: "pressure.load", kind: "truth", unit: "Pa", source: { of: "gaugePressure", node: to } },
    ],
  };
}

/** A model with the conductance of some flow paths changed. */
export function conductanceOf(model: EngineModel, names: readonly string[], conductance: number): EngineModel {
  return { ...model, orifices: model.orifices.map((o) => (names.includes(o.name) ? { ...o, conductance } : o)) };
}
