import { part, typical, typicalChoice } from "./part.ts";

const WARNS = "49 CFR 571.121 S5.1.5 (read): at or above 60 psi; 60 to 75 common";

/** Low-air warning. */
export const lowAirWarning = part("lowAirWarning", {
  closesBelow: typical("warns below", "pressure", "psi", [5, 150], [65, 60, 75], WARNS),
  band: typical("goes off this much higher", "pressure", "psi", [0.1, 20], [1, 0.5, 5]),
  buzzer: typicalChoice("buzzer beside the lamp", ["yes", "no"]),
});

/** Stop lamp switch. */
export const stopLamp = part("stopLamp", {
  closesAbove: typical("lights above", "pressure", "psi", [0.5, 30], [5, 2, 6]),
});

/** One needle. */
export const gauge = part("gauge", {
  error: typical(
    "reads this much high",
    "pressure",
    "psi",
    [-60, 60],
    [0, -9, 9],
    "49 CFR 571.121 S5.1.4 (from memory): 7 % of cut-out",
  ),
  resolution: typical("smallest step that can be read", "pressure", "psi", [0, 20], [1, 1, 5]),
  lag: typical("time constant", "time", "s", [0.01, 10], [0.3, 0.1, 1]),
});
