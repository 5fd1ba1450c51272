import { hasUnit, toSi } from "@brakeyard/units";
import { useRef } from "preact/hooks";
import { figure, ruleOf } from "../../live/figures.ts";
import { usePainter } from "../../live/live.ts";
import { text } from "../../text/text.ts";
import { wordsWidth } from "../layout/metrics.ts";
import { STILL_FLOW, usePicture } from "../pictureLive.ts";
import type { SchematicPart } from "../schematic.ts";
import { lyingZigzag } from "./marks.tsx";
import { useValue } from "./paint.ts";
import type { SymbolProps } from "./symbolProps.ts";
import { TRAVEL, type WheelGeometry, wheelGeometry } from "./wheelGeometry.ts";

/** Scale of the stroke bar when the facts of a chamber do not give its full stroke: 3 in, m. */
const USUAL_STROKE_M = 0.0762;
/** Air below this is not drawn, Pa. */
const EMPTY = 7000;

/** Full stroke of a chamber, m, from its facts ("2.5 in"). */
function fullStroke(part: SchematicPart): number {
  const [value, unit] = (part.facts.fullStroke?.text ?? "").split(" ");
  const given = Number(value);
  return given > 0 && unit && hasUnit("length", unit) ? toSi("length", given, unit) : USUAL_STROKE_M;
}

/** The port by which air comes into a chamber. */
function inlet(part: SchematicPart, spring: boolean): string {
  const ports = Object.keys(part.ports).filter((p) => p.startsWith("1"));
  return (spring ? ports.find((p) => p === "12") : ports.find((p) => p !== "12")) ?? ports[0] ?? "1";
}

/** One wheel's brake: chamber with diaphragm, spring and rod as they are now, stroke against its scale, figures. */
export function WheelEnd({ placed, part }: SymbolProps) {
  const picture = usePicture();
  const parts = placed.parts.map((id) => picture.schematic.parts.find((p) => p.id === id)!);
  const service = parts.find((p) => p.kind === "serviceChamber") ?? part;
  const springPart = parts.find((p) => p.kind === "springChamber");
  const g = wheelGeometry(placed.stance.detail ?? "full", !!springPart, !!placed.stance.flip);
  const servicePort = inlet(service, false);
  return (
    <g transform={`translate(${placed.box.x} ${placed.box.y})`} class={`wheel c-${part.circuit}`}>
      {springPart ? <SpringSide g={g} part={springPart} full={fullStroke(service)} /> : null}
      <ServiceSide g={g} part={service} port={servicePort} />
      <Words
        g={g}
        width={placed.box.w}
        part={part}
        service={service}
        servicePort={servicePort}
        springPart={springPart}
      />
    </g>
  );
}

function flowsInto(picture: ReturnType<typeof usePicture>, part: SchematicPart, port: string): number[] {
  return picture.schematic.lines
    .filter((l) => (l.to.part === part.id && l.to.port === port) || (l.from.part === part.id && l.from.port === port))
    .map((l) => picture.flowIndex(l.id))
    .filter((i) => i >= 0);
}

/** Fills a side while it holds air, in the accent while air moves in or out. */
function useAir(target: { current: SVGRectElement | null }, part: SchematicPart, port: string): void {
  const picture = usePicture();
  usePainter(() => {
    const pressure = picture.instruments.index(picture.pressure(part, port));
    const flows = flowsInto(picture, part, port);
    let was = -1;
    return (values) => {
      const held = pressure >= 0 && values[pressure]! > EMPTY ? 1 : 0;
      const moving = flows.some((i) => Math.abs(values[i]!) > STILL_FLOW) ? 2 : 0;
      if (held + moving === was) return;
      was = held + moving;
      target.current?.classList.toggle("moving", moving > 0);
      target.current?.setAttribute("visibility", was > 0 ? "visible" : "hidden");
    };
  }, [part, port]);
}

function SpringSide({ g, part, full }: { g: WheelGeometry; part: SchematicPart; full: number }) {
  const air = useRef<SVGRectElement>(null);
  const piston = useRef<SVGLineElement>(null);
  const spring = useRef<SVGPathElement>(null);
  const y = g.chamberY;
  useAir(air, part, inlet(part, true));
  useValue(part.channels.springStroke ?? part.channels.stroke, full / 300, (value) => {
    const x = 14 + Math.min(1, value / full) * TRAVEL;
    piston.current?.setAttribute("transform", `translate(${x.toFixed(1)} 0)`);
    air.current?.setAttribute("x", x.toFixed(1));
    air.current?.setAttribute("width", (g.half - x).toFixed(1));
    spring.current?.setAttribute("d", lyingZigzag(1, y + g.chamberH / 2, x - 2, g.chamberH - 14, 7));
  });
  return (
    <g class="sym">
      <rect class="fill" x={1} y={y + 1} width={g.half - 1} height={g.chamberH - 2} />
      <rect ref={air} class="spring-air" x={14} y={y + 2} width={g.half - 14} height={g.chamberH - 4} stroke="none" />
      <path ref={spring} class="thin" d={lyingZigzag(1, y + g.chamberH / 2, 12, g.chamberH - 14, 7)} />
      <line ref={piston} x1={0} y1={y + 1} x2={0} y2={y + g.chamberH - 1} transform="translate(14 0)" />
    </g>
  );
}

function ServiceSide({ g, part, port }: { g: WheelGeometry; part: SchematicPart; port: string }) {
  const air = useRef<SVGRectElement>(null);
  const plate = useRef<SVGGElement>(null);
  const spring = useRef<SVGPathElement>(null);
  const full = fullStroke(part);
  const x0 = g.serviceX;
  const y = g.chamberY;
  const mid = y + g.chamberH / 2;
  const rest = x0 + 9;
  useAir(air, part, port);
  useValue(part.channels.stroke, full / 300, (value) => {
    const x = rest + Math.min(1, value / full) * TRAVEL;
    plate.current?.setAttribute("transform", `translate(${x.toFixed(1)} 0)`);
    air.current?.setAttribute("width", (x - x0).toFixed(1));
    spring.current?.setAttribute("d", lyingZigzag(x, mid, g.chamberW - 2 - x, g.chamberH - 16, 5));
  });
  return (
    <g class="sym">
      <rect class="fill" x={x0 + 1} y={y + 1} width={g.chamberW - x0 - 2} height={g.chamberH - 2} />
      <rect ref={air} class="chamber-air" x={x0 + 1} y={y + 2} width={8} height={g.chamberH - 4} stroke="none" />
      <path ref={spring} class="idle" d={lyingZigzag(rest, mid, g.chamberW - 2 - rest, g.chamberH - 16, 5)} />
      <g ref={plate} transform={`translate(${rest} 0)`}>
        <line x1={0} y1={y + 2} x2={0} y2={y + g.chamberH - 2} />
        <line class="heavy" x1={0} y1={mid} x2={g.chamberW - rest + 3} y2={mid} />
      </g>
    </g>
  );
}

interface WordsProps {
  g: WheelGeometry;
  width: number;
  part: SchematicPart;
  service: SchematicPart;
  servicePort: string;
  springPart: SchematicPart | undefined;
}

function Words({ g, width, part, service, servicePort, springPart }: WordsProps) {
  const picture = usePicture();
  const { instruments } = picture;
  const servicePressure = figure(instruments, picture.pressure(service, servicePort), "pressure");
  const springPressure = springPart
    ? figure(instruments, picture.pressure(springPart, inlet(springPart, true)), "pressure")
    : null;
  const stroke = figure(instruments, service.channels.stroke, "stroke");
  const force = figure(instruments, service.channels.rodForce, "force");
  const type = [service.facts.type?.text, springPart?.facts.type?.text].filter((t) => t !== undefined).join("/");
  const fits = wordsWidth(`${part.label} ${type}`, g.name.sizePx) < width - g.name.x + 6;
  return (
    <>
      <text class="name" x={g.name.x} y={g.name.y} font-size={g.name.sizePx}>
        {part.label} {fits ? <tspan class="quiet">{type}</tspan> : null}
      </text>
      <StrokeBar g={g} service={service} />
      <g class="only-truth">
        {springPressure ? (
          <text class="fig" x={g.half / 2} y={g.figures.y} font-size={g.figures.sizePx} text-anchor="middle">
            {springPressure}
          </text>
        ) : null}
        <text
          class="fig"
          x={(g.serviceX + g.chamberW) / 2}
          y={g.figures.y}
          font-size={g.figures.sizePx}
          text-anchor="middle"
        >
          {servicePressure}
        </text>
        <text class="fig" x={g.stroke.x} y={g.stroke.y} font-size={g.stroke.sizePx}>
          {stroke}
          {g.scale ? <tspan class="quiet unit" font-size={13.5}>{` ${ruleOf("stroke").unit}`}</tspan> : null}
        </text>
        {g.force ? (
          <text class="fig" x={g.force.x} y={g.force.y} font-size={g.force.sizePx}>
            {text.picture.tilde}
            {force}
            <tspan class="quiet unit" font-size={13.5}>{` ${ruleOf("force").unit}`}</tspan>
          </text>
        ) : null}
      </g>
    </>
  );
}

/** The stroke now, on a scale that ends where the chamber bottoms. */
function StrokeBar({ g, service }: { g: WheelGeometry; service: SchematicPart }) {
  const bar = useRef<SVGRectElement>(null);
  const full = fullStroke(service);
  const { x, y, w, h } = g.bar;
  const travel = w - 12;
  useValue(service.channels.stroke, full / 400, (value) => {
    bar.current?.setAttribute("width", (Math.min(1, value / full) * travel).toFixed(1));
  });
  return (
    <g class="sym">
      <rect class="fill thin" x={x} y={y} width={w} height={h} />
      <rect ref={bar} class="stroke-now" x={x + 0.7} y={y + 0.7} width={0} height={h - 1.4} stroke="none" />
      <path class="thin" d={hatch(x + travel, y, 12, h)} />
      <line x1={x + travel} y1={y - 3} x2={x + travel} y2={y + h + 3} />
    </g>
  );
}

function hatch(x: number, y: number, w: number, h: number): string {
  let path = "";
  for (let i = 0; i < w + h; i += 5) {
    const x1 = x + Math.min(i, w);
    const y1 = y + Math.max(0, i - w);
    const x2 = x + Math.max(0, i - h);
    const y2 = y + Math.min(i, h);
    path += `M${x1},${y1} L${x2},${y2} `;
  }
  return path;
}
