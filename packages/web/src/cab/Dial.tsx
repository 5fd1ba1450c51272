import { toSi } from "@brakeyard/units";
import { useRef } from "preact/hooks";
import { figure, ruleOf } from "../live/figures.ts";
import { useLive, usePainter } from "../live/live.ts";
import { settings, type UnitName } from "../page/settings.ts";
import { text } from "../text/text.ts";

const SWEEP = 270;
const START = -135;
/** Where the dial is hatched: the range of the low-air warning. */
const LOW_PA = toSi("pressure", 60, "psi");

interface Scale {
  full: number;
  major: number;
  minor: number;
}

/** Scale marks of each unit; the needle sweeps the same angle for the same pressure. */
const SCALES: Record<UnitName, Scale> = {
  psi: { full: 150, major: 30, minor: 10 },
  kPa: { full: 1000, major: 200, minor: 50 },
  bar: { full: 10, major: 2, minor: 0.5 },
};

function angleOf(share: number): number {
  return START + SWEEP * Math.min(Math.max(share, 0), 1.03);
}

function at(share: number, radius: number): string {
  const a = (angleOf(share) * Math.PI) / 180;
  return `${(100 + radius * Math.sin(a)).toFixed(1)},${(100 - radius * Math.cos(a)).toFixed(1)}`;
}

/** Two needles on one face, told apart by shape: a long blade and a ring. These are readings, never the truth inside. */
export function Dial() {
  const blade = useRef<SVGGElement>(null);
  const ring = useRef<SVGGElement>(null);
  const { instruments } = useLive();
  const unit = settings.unit.value;
  const scale = SCALES[unit];
  const fullPa = toSi("pressure", scale.full, unit);
  usePainter(() => {
    const needles = [
      { index: instruments.index("gauge.primary"), group: blade, shown: Number.NaN },
      { index: instruments.index("gauge.secondary"), group: ring, shown: Number.NaN },
    ];
    return (values) => {
      for (const n of needles) {
        if (n.index < 0) continue;
        const angle = Math.round(angleOf(values[n.index]! / fullPa) * 5) / 5;
        if (angle === n.shown) continue;
        n.shown = angle;
        n.group.current?.setAttribute("transform", `rotate(${angle} 100 100)`);
      }
    };
  }, [fullPa]);
  return (
    <svg class="dial" viewBox="0 0 200 200" role="img" aria-label={text.cab.gauge.label}>
      <circle cx={100} cy={100} r={98} class="face" />
      <path class="low-band" d={`M${at(0, 90)} A90,90 0 0 1 ${at(LOW_PA / fullPa, 90)}`} />
      <Marks scale={scale} />
      <text class="unit" x={100} y={132}>
        {unit}
      </text>
      <g class="needle ring" ref={ring}>
        <path d="M97.5,100 L98.6,52 H101.4 L102.5,100 Z" />
        <circle cx={100} cy={46} r={6} />
      </g>
      <g class="needle blade" ref={blade}>
        <path d="M95.5,118 L98.8,20 L101.2,20 L104.5,118 Z" />
      </g>
      <circle class="hub" cx={100} cy={100} r={8} />
      {settings.truth.value ? <Foot /> : null}
    </svg>
  );
}

function Marks({ scale }: { scale: Scale }) {
  const count = Math.round(scale.full / scale.minor);
  const steps = Array.from({ length: count + 1 }, (_, i) => i * scale.minor);
  return (
    <>
      {steps.map((v) => {
        const major = Math.abs(v / scale.major - Math.round(v / scale.major)) < 1e-9;
        return (
          <path
            key={v}
            class={major ? "major" : "minor"}
            d={`M${at(v / scale.full, 95)} L${at(v / scale.full, major ? 82 : 88)}`}
          />
        );
      })}
      {steps
        .filter((v) => Math.abs(v / scale.major - Math.round(v / scale.major)) < 1e-9)
        .map((v) => {
          const [x, y] = at(v / scale.full, 67).split(",");
          return (
            <text key={v} class="mark" x={x} y={Number(y) + 5.5}>
              {v}
            </text>
          );
        })}
    </>
  );
}

/** Needle figures for the instructor, in the needle's own shape. */
function Foot() {
  const { instruments } = useLive();
  const primary = figure(instruments, "gauge.primary", "pressure");
  const secondary = figure(instruments, "gauge.secondary", "pressure");
  return (
    <g class="foot">
      <path class="key-blade" d="M66,155 L86,159 L66,163 Z" />
      <text x={90} y={165}>
        {primary}
      </text>
      <path class="key-ring" d="M66,177 H77" />
      <circle class="key-ring" cx={81} cy={177} r={4} />
      <text x={90} y={183}>
        {secondary}
      </text>
    </g>
  );
}

/** Application gauge: the foot valve's delivery as the driver reads it, on a bar with its figure. */
export function Application() {
  const { instruments } = useLive();
  const shown = figure(instruments, "gauge.application", "pressure");
  return (
    <p class="application">
      <output class="figure main" aria-label={text.cab.gauge.application}>
        {shown}
      </output>
      <span class="unit">{ruleOf("pressure").unit}</span>
    </p>
  );
}
