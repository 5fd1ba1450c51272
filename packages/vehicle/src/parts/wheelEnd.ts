import { neededChoice, part, typical, typicalChoice } from "./part.ts";

const COMPLIANCE =
  "trade article (read): 0.66 in free and 1.15 in power stroke on a type 30 at 100 psi; 400 to 650 N/mm";
const RETURN_SPRING = "from memory: 130 to 200 N, 1.5 to 3 N/mm";

/** Chamber types that have a row in the table of generic chambers; `other` needs area, full stroke and volume from the file. */
export const CHAMBER_TYPES = ["6", "9", "12", "14", "16", "18", "20", "24", "30", "36", "other"] as const;
/** Spring types; the spring is the matching one unless its force is given. */
export const SPRING_TYPES = ["none", "9", "12", "14", "16", "18", "20", "24", "30", "36"] as const;

/** Everything at one wheel: chamber, spring, lever, brake. One entry serves both ends of an axle; `left` and `right` differ from it. */
export const wheelEnd = part("wheelEnd", {
  foundation: typicalChoice("brake", ["sCam", "disc"]),
  chamberType: neededChoice("service chamber type", CHAMBER_TYPES),
  chamberStroke: typicalChoice("standard or long stroke (extraLong: the 3 in stroke of types 20 and 24)", [
    "standard",
    "long",
    "extraLong",
  ]),
  springType: neededChoice("spring chamber type", SPRING_TYPES),
  area: typical("diaphragm area", "area", "in2", [3, 100], [30, 30, 30]),
  fullStroke: typical("stroke at which the diaphragm bottoms", "length", "in", [0.5, 6], [2.5, 2.5, 3.2]),
  ratedVolume: typical("volume at full stroke, as rated", "volume", "in3", [5, 600], [89, 80, 100]),
  returnPreload: typical("return spring at rest", "force", "N", [0, 1500], [160, 130, 200], RETURN_SPRING),
  returnRate: typical("return spring rate", "stiffness", "N/mm", [0, 30], [2, 1.5, 3], RETURN_SPRING),
  springForce: typical(
    "power spring force at rest",
    "force",
    "lbf",
    [100, 6000],
    [2000, 1500, 2200],
    "provincial manual p. 158 (read): 1,500 to 2,000 lbf",
  ),
  springRate: typical("power spring rate", "stiffness", "lbf/in", [0, 2000], [250, 150, 350]),
  arm: typical("arm length", "length", "in", [2, 12], [5.5, 5, 6.5], "5.0 to 6.5 in, from memory"),
  adjuster: typicalChoice("adjuster", ["automatic", "manual"]),
  freeStroke: typical("rod travel to first contact, adjusted", "length", "in", [0, 4], [0.55, 0.375, 0.75], COMPLIANCE),
  firstMotion: typical("pressure that first moves the rod", "pressure", "psi", [0.2, 30], [4, 3, 5], "from memory"),
  contact: typical("pressure at contact", "pressure", "psi", [0.4, 60], [9, 6, 12], "from memory"),
  stiffness: typical(
    "stiffness of the brake, felt at the rod",
    "stiffness",
    "N/mm",
    [50, 3000],
    [457, 400, 650],
    COMPLIANCE,
  ),
  camRadius: typical("effective cam radius", "length", "mm", [2, 30], [12.7, 12, 13.5], "0.5 in nominal (read)"),
  efficiency: typical(
    "mechanical efficiency",
    "ratio",
    "1",
    [0.2, 1],
    [0.65, 0.6, 0.75],
    "0.6 (read) to 0.75 (from memory)",
  ),
  friction: typical(
    "lining friction, cold",
    "ratio",
    "1",
    [0.05, 0.8],
    [0.38, 0.25, 0.5],
    "SAE J866 letters, from memory",
  ),
  drumDiameter: typical("drum or disc diameter", "length", "in", [8, 24], [16.5, 15, 17]),
  liningWidth: typical("lining width", "length", "in", [1, 14], [7, 4, 10]),
});
