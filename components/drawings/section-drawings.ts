import { type SVGTemplateResult, svg } from 'lit';
import {
  aid,
  aidDot,
  angle,
  asked,
  CENTRES,
  dot,
  faint,
  open,
  ray,
  ring,
  SECTION,
  section,
  span,
  word,
} from './parts.ts';

/** Drawings of what is measured on a whole section. */

const ends = (): SVGTemplateResult[] => [aidDot(12, 49), aidDot(122.5, 49)];

/** The four chords as the line from one end to the other. */
const CHORD_LINES = {
  far: [11.5, 47, 123, 49],
  bitangent: [20, 56.5, 121, 51],
  axial: [10.5, 68, 123, 68],
  camber: [14, 50, 122.5, 49],
} as const;
export type ChordKind = keyof typeof CHORD_LINES;

const chordAids: Record<ChordKind, () => SVGTemplateResult[]> = {
  far: () => [aid('M11.5 47V66M123 49V66')],
  bitangent: () => [aid('M4 57.4L130 50.5'), aid('M11.4 42L13.2 61M123 41L124 55')],
  axial: () => [aid('M10.5 30V74M123 30V74')],
  camber: () => [aid(CENTRES), ...ends()],
};

export function chordDrawing(kind: ChordKind): SVGTemplateResult[] {
  const [x1, y1, x2, y2] = CHORD_LINES[kind];
  return [section(), ...chordAids[kind](), span(x1, y1, x2, y2)];
}

/** Stagger: the angle of the chord from the axial direction; the section is turned so that it shows. */
export function staggerDrawing(kind: ChordKind): SVGTemplateResult[] {
  const [x1, y1, x2, y2] = CHORD_LINES[kind === 'axial' ? 'far' : kind];
  const turned = svg`<g transform="translate(0 14) rotate(-24 12 50)">${section()} ${kind === 'camber' ? aid(CENTRES) : null} ${asked(`M${x1} ${y1}L${x2} ${y2}`)}</g>`;
  const tilt = -24 + (Math.atan2(y2 - y1, x2 - x1) * 180) / Math.PI;
  return [turned, aid('M12 64H124'), angle(12, 64, 74, 0, tilt), word(92, 60, 'axial')];
}

/** Largest inscribed circle. */
export const thicknessMaxDrawing = (): SVGTemplateResult[] => [
  section(),
  aid(CENTRES),
  ring(66, 31, 12.6),
  span(63.5, 43.4, 68.5, 18.6),
];

const CUTS = {
  circle: () => [aid(CENTRES), ring(40, 36, 11.5), span(35, 25.6, 45, 46.4)],
  chord: () => [aid('M12 50L123 49'), span(40, 24, 40, 47), aid('M40 47V50')],
  camber: () => [aid(CENTRES), span(35, 25.4, 45, 45.6)],
} as const;
export type CutKind = keyof typeof CUTS;

/** Thickness by an inscribed circle, across the chord or across the line of centres. */
export const cutDrawing = (kind: CutKind): SVGTemplateResult[] => [section(), ...CUTS[kind]()];

/** Where the largest thickness or camber lies. */
export const placeDrawing = (of: 'thickness' | 'camber'): SVGTemplateResult[] => [
  section(),
  ...(of === 'thickness' ? [aid(CENTRES), ring(66, 31, 12.6)] : [aid(CENTRES), aid('M14 50L122.5 49M66 49.6V30.6')]),
  aid('M14 50V74M66 32V74'),
  dot(66, 31),
  span(14, 70, 66, 70),
];

const WINDOWS = 'M21 42.5C30 35.5 40 32 50 30.5M112 44.5C103 40 94 36.5 84 34';

/** Turn of the line of centres: between its end tangents, from windows near the ends, or as one arc. */
export const camberAngleDrawing = (by: 'end' | 'window' | 'arc'): SVGTemplateResult[] => [
  section(),
  aid(CENTRES),
  ...(by === 'arc'
    ? [asked('M14 50C40 24 96 22 122 49'), aid('M14 50L122 49'), span(68, 49, 68, 30.5)]
    : [
        ...(by === 'window' ? [asked(WINDOWS)] : [dot(15, 48), dot(119, 48.5)]),
        (by === 'window' ? aid : asked)(`${ray(15, 48, -40, 62)}${ray(119, 48.5, 207, 88)}`),
        angle(51, 17, 16, -40, 27),
      ]),
];

export const metalAngleDrawing = (end: 'leading' | 'trailing', over: 'end' | 'window'): SVGTemplateResult[] => {
  const [x, y, deg] = end === 'leading' ? [15, 48, -40] : [119, 48.5, 207];
  const windowLine = end === 'leading' ? 'M21 42.5C30 35.5 40 32 50 30.5' : 'M112 44.5C103 40 94 36.5 84 34';
  const side = end === 'leading' ? 0 : 180;
  return [
    section(),
    aid(CENTRES),
    aid(`M${x} ${y}h${end === 'leading' ? 60 : -70}`),
    ...(over === 'window'
      ? [
          faint(`${windowLine}l0 -5${end === 'leading' ? 'C40 27 30 30.5 21 37.5Z' : 'C94 31.5 103 35 112 39.5Z'}`),
          asked(windowLine),
        ]
      : []),
    asked(ray(x, y, deg, end === 'leading' ? 46 : 60)),
    angle(x, y, end === 'leading' ? 30 : 42, side, deg < 0 ? deg : deg),
    dot(x, y),
  ];
};

export const camberMaxDrawing = (): SVGTemplateResult[] => [
  section(),
  aid(CENTRES),
  aid('M14 50L122.5 49'),
  ...ends(),
  span(66, 49.6, 66, 30.6),
];

export const areaDrawing = (): SVGTemplateResult[] => [section(), faint(SECTION), asked(SECTION)];
export const perimeterDrawing = (): SVGTemplateResult[] => [section(), asked(SECTION)];
export const centroidDrawing = (way: 'x' | 'y'): SVGTemplateResult[] => [
  section(),
  faint(SECTION),
  aid('M8 72H128M8 72V8'),
  way === 'x' ? span(8, 64, 62, 64) : span(24, 72, 24, 36),
  aid(way === 'x' ? 'M62 64V36' : 'M24 36H62'),
  dot(62, 36),
];
export const axisDrawing = (): SVGTemplateResult[] => [
  section(),
  faint(SECTION),
  aid('M62 36H128'),
  asked('M6 30.1L126 42.7'),
  angle(62, 36, 52, 0, 6),
  dot(62, 36),
];

/** Closest distance between neighbours. */
export const throatDrawing = (): SVGTemplateResult[] => [
  ...[0, 34].map(
    (shift) =>
      svg`<path class="shape" d="M10 ${34 + shift}C40 ${4 + shift} 80 ${6 + shift} 122 ${30 + shift}C84 ${18 + shift} 44 ${18 + shift} 10 ${34 + shift}Z"></path>`,
  ),
  span(121, 31, 110, 55),
];

/** Turn of the measured section against the nominal one, by all its points or by its chord. */
export const twistDrawing = (by: 'fit' | 'chord'): SVGTemplateResult[] => [
  section(),
  aid(
    'M10 60C6 55 8 48 14 42C28 27 54 17 79 22C97 25.5 112 32 122 40C124 42 122 44 119 43.4C104 40.5 90 39.5 75 41C53 43.5 38 52 27 59C20 63 14 63 10 60Z',
  ),
  ...(by === 'chord'
    ? [asked('M12 49L124 49M9 58L124 41')]
    : [asked('M30 27l3 -6M60 18.6l0 3M92 27.6l-1 -4M108 36l-2 -3.4M50 46l1 3.4M90 44l0 -3.6')]),
  angle(66, 49, 48, 0, -8.5),
];

export type Way = 'x' | 'y' | 'chord' | 'normal';
export const displacementDrawing = (way: Way): SVGTemplateResult[] => {
  const across = way === 'x' || way === 'chord';
  return [
    section(),
    aid(
      across
        ? 'M20 52C16 47 18 40 25 35C40 22 66 15 90 23C107 29 121 38 130 47'
        : 'M12 42C8 37 10 30 17 25C32 12 58 5 82 13C99 19 113 28 122 37',
    ),
    aid(way === 'x' || way === 'y' ? 'M4 74H128M4 74V6' : 'M4 50L130 49'),
    across ? span(62, 31, 74, 31) : span(66, 34, 66, 22),
  ];
};

/** Bow, lean, sweep and untwist: the place or turn of the sections over height. */
export const spanDrawing = (kind: 'bow' | 'slope' | 'turn'): SVGTemplateResult[] => [
  aid('M66 74V4'),
  asked(kind === 'bow' ? 'M66 72C84 50 84 28 66 6' : kind === 'slope' ? 'M58 72L88 8' : 'M66 72C62 50 72 28 92 8'),
  ...(kind === 'bow'
    ? [span(66.5, 39, 79.5, 39)]
    : kind === 'slope'
      ? [angle(58, 72, 44, -90, -65)]
      : [span(66, 8, 92, 8)]),
  ...[14, 28, 42, 56].map((y) => aidDot(66, y + 4)),
];

const WAVES = 'M8 44C14 30 22 30 28 41S44 54 52 40S68 24 76 39S92 52 100 41S116 33 124 38';

/** Waves of a flank: their height, or their slope over a base length. */
export const wavinessDrawing = (what: 'height' | 'slope'): SVGTemplateResult[] =>
  what === 'height'
    ? [aid('M8 40H124'), asked(WAVES), span(76, 30.5, 76, 46.5), aid('M62 30.3H90M62 46.8H112')]
    : [aid('M8 40H124'), open(WAVES), asked('M38 56L62 22'), aid('M43 49V70M57 29V70'), span(43, 66, 57, 66)];

export const profileDrawing = (): SVGTemplateResult[] => [
  section(),
  aid('M6 55C2 48 4 38 13 31C30 16 58 8 84 17C102 23 118 33 127 45'),
  aid('M20 48C18 46 19 43 23 40C36 29 58 22 80 29C94 33 105 40 113 45'),
  asked('M12 50C9 45 11 39 18 34C34 20 60 17 82 22C97 27 110 39 121 46'),
];
