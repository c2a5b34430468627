import { type SVGTemplateResult, svg } from 'lit';
import { aid, aidDot, angle, asked, dot, faint, nose, open, ray, ring, span, word } from './parts.ts';

/** Drawings of what is measured on one edge; the nose stands at (24, 39), the line of centres runs to the right. */

const AXIS = 'M14 39H128';

/** Circle whose curvature is that of the outline at the nose. */
const noseCurvature = (): SVGTemplateResult[] => [
  nose(),
  aid(AXIS),
  ring(43, 39, 19),
  span(43, 39, 24.6, 39),
  dot(24, 39),
];

/** Least-squares circle through the points over an angle of normal direction. */
const overAngle = (): SVGTemplateResult[] => [
  nose(),
  aid(AXIS),
  aid(`${ray(50, 39, 120, 38)}${ray(50, 39, 240, 38)}`),
  ring(49, 39, 25),
  angle(50, 39, 13, 120, 240),
  word(58, 36, '±φ'),
  ...[150, 165, 180, 195, 210].map((deg) =>
    aidDot(49.5 + 25.4 * Math.cos((deg * Math.PI) / 180), 39 + 25.4 * Math.sin((deg * Math.PI) / 180)),
  ),
];

/** Least-squares circle through the whole arc of a round edge, whose ends are found. */
const wholeArc = (): SVGTemplateResult[] => [
  svg`<path class="shape" d="M128 8L44 14A25.4 25.4 0 0 0 44 64L128 70"></path>`,
  ring(47.5, 39, 25.2),
  dot(44, 14),
  dot(44, 64),
];

/** The same over all points within a set-back from the nose. */
const overSetback = (): SVGTemplateResult[] => [
  nose(),
  aid('M24 4V74M54 4V74'),
  ring(50, 39, 26),
  span(24, 72, 54, 72),
  word(58, 75, 'b'),
];

/** Inscribed circle with its centre at a set-back. */
const inscribed = (): SVGTemplateResult[] => [
  nose(),
  aid(AXIS),
  aid('M24 30V74M58 39V74'),
  ring(58, 39, 23.4),
  dot(58, 39),
  span(24, 72, 58, 72),
  word(62, 75, 'b'),
];

/** Last circle of the line of centres. */
const endCircle = (): SVGTemplateResult[] => [
  nose(),
  aid('M43 39H128'),
  aid(
    'M96 39m-26.6 0a26.6 26.6 0 1 0 53.2 0a26.6 26.6 0 1 0 -53.2 0M68 39m-24.6 0a24.6 24.6 0 1 0 49.2 0a24.6 24.6 0 1 0 -49.2 0',
  ),
  ring(43, 39, 18.6),
  dot(43, 39),
];

/** Ellipse with half axes a along and b across; what is measured of it is drawn with arrows. */
const ellipseOf = (what: 'a' | 'b' | 'both'): SVGTemplateResult[] => [
  nose(),
  aid(AXIS),
  asked('M112 11.3A68 29 0 0 0 24 39A68 29 0 0 0 112 66.7'),
  what === 'b' ? aid('M24 39H92') : span(24.6, 39, 92, 39),
  what === 'a' ? aid('M92 39V10') : span(92, 39, 92, 10.5),
  word(54, 35, 'a'),
  word(96, 28, 'b'),
];

/** The ellipse of an edge: a half axis of it, or both. */
export const ELLIPSES = {
  along: () => ellipseOf('a'),
  across: () => ellipseOf('b'),
  both: () => ellipseOf('both'),
} as const;

export const RADII = { noseCurvature, overAngle, wholeArc, overSetback, inscribed, endCircle } as const;

/** Edge thickness at a set-back b, cut in three ways. */
const thicknessBase = (): SVGTemplateResult[] => [nose(), aid('M24 30V74'), span(24, 72, 62, 72), word(66, 75, 'b')];
export const edgeThicknessDrawing = (cut: 'circle' | 'chord' | 'camber'): SVGTemplateResult[] => [
  ...thicknessBase(),
  ...(cut === 'circle'
    ? [aid(AXIS), aid('M62 39V74'), ring(62, 39, 24), span(62, 15.4, 62, 62.6)]
    : cut === 'chord'
      ? [aid('M24 39L128 46'), aid('M62 64V74'), span(63.6, 16, 60, 61)]
      : [aid(AXIS), aid('M62 63V74'), span(62, 16, 62, 62)]),
];

/** Where the edge point lies. */
export const POINTS = {
  camber: (): SVGTemplateResult[] => [nose(), aid('M62 39H128'), asked('M62 39H24'), dot(24, 39)],
  extreme: (): SVGTemplateResult[] => [nose(), aid('M24 4V74'), asked('M24 26V52'), span(8, 66, 24, 66), dot(24, 39)],
  farthest: (): SVGTemplateResult[] => [nose(), span(26, 46, 128, 28), dot(25, 46)],
  curvature: (): SVGTemplateResult[] => [nose(), ring(41, 42, 17), dot(24.4, 43), asked('M24.4 43L41 42')],
} as const;

const SQUARE = 'M128 10C84 10 40 14 28 20C24 22 24 24 24 28V50C24 54 24 56 28 58C40 64 84 68 128 68';
const BAND = 'M92 4C56 6 14 16 14 39C14 62 56 72 92 74M92 18C62 20 36 26 36 39C36 52 62 58 92 60';

/** Form of the edge. */
export const FORMS = {
  fullness: (): SVGTemplateResult[] => [
    nose(),
    faint('M62 15C40 18 24 25 24 39C24 53 40 60 62 63Z'),
    asked('M62 15C40 18 24 25 24 39C24 53 40 60 62 63Z'),
    aid('M24 15H62V63H24Z'),
  ],
  flat: (): SVGTemplateResult[] => [
    asked('M24 26V52'),
    aid('M128 10C84 10 30 14 24 26V52C30 64 84 68 128 68'),
    aid('M19 20V58M29 20V58'),
    span(12, 26, 12, 52),
  ],
  areas: (): SVGTemplateResult[] => [
    nose(),
    faint('M70 14C42 17 24 25 24 39H70Z'),
    asked('M70 14C42 17 24 25 24 39H70Z'),
    asked('M70 64C42 61 24 53 24 39'),
    aid('M70 39V64'),
    aid(AXIS),
  ],
  asymmetry: (): SVGTemplateResult[] => [
    aid(AXIS),
    asked('M128 10C84 10 26 14 26 30C26 54 84 68 128 68'),
    span(16, 30, 16, 39),
    dot(26, 30),
  ],
  tilt: (): SVGTemplateResult[] => [nose(), aid(AXIS), asked(ray(92, 39, 188, 72)), angle(92, 39, 52, 180, 188)],
  corner: (): SVGTemplateResult[] => [open(SQUARE), ring(32, 27, 8), dot(26.2, 21.5)],
  corners: (): SVGTemplateResult[] => [open(SQUARE), ring(32, 27, 8), ring(32, 51, 8)],
  profile: (): SVGTemplateResult[] => [nose(), aid(BAND), asked('M92 12C56 14 21 20 21 40C21 60 60 64 92 67')],
  fittedProfile: (): SVGTemplateResult[] => [
    aid('M92 7C50 9 15 15 15 36C15 60 56 63 92 63'),
    nose(),
    aid(BAND),
    asked('M92 12C56 14 23 20 23 40C23 60 60 64 92 67'),
    span(108, 30, 116, 38),
  ],
} as const;
