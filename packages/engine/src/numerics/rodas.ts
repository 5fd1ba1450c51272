/**
 * Coefficients of RODAS4: six stages, order 4 with an embedded order 3, L-stable and stiffly accurate, gamma = 1/4,
 * in the transformed variables that need no product with the Jacobian.
 *
 * @source [HairerWanner] section IV.7 and the authors' published coefficient set; the order is proved by measurement in test/rodas.test.ts.
 */
export const GAMMA = 0.25;

export const A21 = 1.544;
export const A31 = 0.9466785280815826;
export const A32 = 0.2557011698983284;
export const A41 = 3.314825187068521;
export const A42 = 2.896124015972201;
export const A43 = 0.9986419139977817;
export const A51 = 1.221224509226641;
export const A52 = 6.019134481288629;
export const A53 = 12.53708332932087;
export const A54 = -0.687886036105895;

export const C21 = -5.6688;
export const C31 = -2.430093356833875;
export const C32 = -0.2063599157091915;
export const C41 = -0.1073529058151375;
export const C42 = -9.594562251023355;
export const C43 = -20.47028614809616;
export const C51 = 7.496443313967647;
export const C52 = -10.24680431464352;
export const C53 = -33.99990352819905;
export const C54 = 11.7089089320616;
export const C61 = 8.083246795921522;
export const C62 = -7.981132988064893;
export const C63 = -31.52159432874371;
export const C64 = 16.31930543123136;
export const C65 = -6.058818238834054;

/** Dense output of order 3 on the step. */
export const D21 = 10.12623508344586;
export const D22 = -7.487995877610167;
export const D23 = -34.80091861555747;
export const D24 = -7.992771707568823;
export const D25 = 1.025137723295662;
export const D31 = -0.6762803392801253;
export const D32 = 6.087714651680015;
export const D33 = 16.43084320892478;
export const D34 = 24.76722511418386;
export const D35 = -6.594389125716872;
