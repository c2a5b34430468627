import type { EdgeName, FlankName, Quantity } from '../measure/definitions/definition.ts';
import type { Parameters } from '../model/value.ts';

/** How errors at the surface and a change of scale enter a quantity; the gains are in `effects.ts`. */
export type Effect =
  /** Radius or semi-axis. */
  | 'radius'
  /** Distance between two surfaces: chord, thickness. */
  | 'thickness'
  /** Distance that does not change when all surfaces grow alike: camber, bow, flat. */
  | 'height'
  /** Coordinate of a surface point. */
  | 'point'
  /** Coordinate of a middle: centroid. */
  | 'middle'
  /** Shift of a section. */
  | 'motion'
  /** Deviation of the surface from the nominal one. */
  | 'profile'
  /** Width of the zone that holds the surface: twice its largest deviation. */
  | 'profile-width'
  /** Unevenness of one surface. */
  | 'form'
  /** Opening to the neighbouring blade. */
  | 'gap'
  | 'angle'
  | 'area'
  | 'perimeter'
  | 'second-moment'
  | 'none';

export interface CatalogueEntry {
  /** Path of the quantity, as in a plan. */
  of: string;
  name: string;
  /** Unit under the own definition. */
  unit: 'mm' | 'deg' | 'mm2' | 'mm4' | '1';
  scope: 'section' | 'span';
  /** Listed when the plan names no characteristics. */
  main: boolean;
  /** Depends on how the measured part was placed, by shift or by turn. */
  placed: boolean;
  effect: Effect;
  /** Deviation by nature: its requirement is 0 where the plan gives none. */
  aboutZero: boolean;
  /** What `at` means where the value is a list. */
  list: 'fraction' | 'setback' | null;
  /** What its definitions are listed under; null where there is no choice. */
  quantity: Quantity | null;
  /** Edge or flank it belongs to, null for the whole section. */
  edge: EdgeName | null;
  flank: FlankName | null;
  /** Own definition, in force where nobody chooses another. */
  definition: string;
  /** Parameters of the own definition where they are not that definition's defaults. */
  parameters: Parameters;
  /** True where the path itself names the definition's result, so that only its parameters can be chosen. */
  fixed: boolean;
  /** Path of the value by the own definition in a section result or in the trends; null: measured when asked for. */
  source: string | null;
}

type Fixed = 'of' | 'name' | 'unit' | 'effect' | 'quantity' | 'definition';
type Traits = Partial<Omit<CatalogueEntry, Fixed>>;

function entry(
  of: string,
  name: string,
  unit: CatalogueEntry['unit'],
  effect: Effect,
  [quantity, definition]: readonly [Quantity | null, string],
  traits: Traits = {},
): CatalogueEntry {
  return {
    of,
    name,
    unit,
    scope: 'section',
    main: false,
    placed: false,
    effect,
    aboutZero: false,
    list: null,
    quantity,
    edge: null,
    flank: null,
    definition,
    parameters: {},
    fixed: false,
    source: of,
    ...traits,
  };
}

const MAIN: Traits = { main: true };
const PLACED: Traits = { placed: true };
const MAIN_PLACED: Traits = { main: true, placed: true };
const MOTION: Traits = { main: true, placed: true, aboutZero: true };
const FIXED: Traits = { fixed: true };
const MIDDLE: Traits = { placed: true, fixed: true };
/** Measured only when a plan or the user asks. */
const ASKED: Traits = { source: null };

function edge(key: 'leadingEdge' | 'trailingEdge', which: EdgeName, word: string): CatalogueEntry[] {
  const own = (
    path: string,
    name: string,
    unit: CatalogueEntry['unit'],
    effect: Effect,
    how: readonly [Quantity, string],
    traits: Traits = {},
  ) => entry(`${key}.${path}`, `${word} ${name}`, unit, effect, how, { edge: which, ...traits });
  return [
    own('radius', 'radius', 'mm', 'radius', ['edge-radius', 'R-LSQ'], { source: `${key}.radiusFit` }),
    own('radiusFit', 'radius, fitted circle', 'mm', 'radius', ['edge-radius', 'R-LSQ'], MAIN),
    own('radiusNose', 'radius at the nose', 'mm', 'radius', ['edge-radius', 'R-OSC'], MAIN),
    own('ellipse', 'ellipse', 'mm', 'radius', ['edge-ellipse', 'E-A'], { source: `${key}.ellipseA` }),
    own('ellipseA', 'ellipse, half axis along', 'mm', 'radius', ['edge-ellipse', 'E-A'], FIXED),
    own('ellipseB', 'ellipse, half axis across', 'mm', 'radius', ['edge-ellipse', 'E-B'], FIXED),
    own('ellipseNoseRadius', 'ellipse, nose radius', 'mm', 'radius', ['edge-radius', 'E-AB'], FIXED),
    own('thickness', 'thickness', 'mm', 'thickness', ['edge-thickness', 'T-ORD'], {
      list: 'setback',
      source: `${key}.thicknessAt`,
    }),
    own('thicknessAt', 'thickness', 'mm', 'thickness', ['edge-thickness', 'T-ORD'], { main: true, list: 'setback' }),
    own('profile', 'profile', 'mm', 'profile-width', ['edge-profile', 'PROFILE-DATUM'], {
      placed: true,
      aboutZero: true,
      source: `edgeProfile.${which}.datum`,
    }),
    own('profileLocal', 'profile, fitted for itself', 'mm', 'profile-width', ['edge-profile', 'PROFILE-LOCAL'], {
      aboutZero: true,
      fixed: true,
      source: `edgeProfile.${which}.local`,
    }),
    own('form', 'form', '1', 'none', ['edge-form', 'F-EDGE'], { source: `${key}.fullness` }),
    own('fullness', 'fullness', '1', 'none', ['edge-form', 'F-EDGE'], FIXED),
    own('flatLength', 'flat length', 'mm', 'height', ['edge-form', 'FLAT'], FIXED),
    own('asymmetry', 'asymmetry', '1', 'none', ['edge-form', 'ASYM'], FIXED),
    own('pointX', 'point X', 'mm', 'point', ['edge-point-x', 'EP-CAM'], PLACED),
    own('pointY', 'point Y', 'mm', 'point', ['edge-point-y', 'EP-CAM'], PLACED),
  ];
}

function moment(of: string, name: string, definition: string): CatalogueEntry {
  const placed = of !== 'i1' && of !== 'i2';
  return entry(of, name, 'mm4', 'second-moment', ['area-property', definition], { fixed: true, placed });
}

/** Shift of a section by the middle of its line of centres. */
function middleShift(of: string, name: string, definition: string): CatalogueEntry {
  const parameters = { basis: 'mid camber line' };
  const traits = { placed: true, aboutZero: true, fixed: true, parameters };
  return entry(of, name, 'mm', 'motion', ['displacement', definition], traits);
}

function flank(key: string, which: FlankName, word: string): CatalogueEntry[] {
  return [
    entry(`${key}.waviness`, `${word} waviness`, 'mm', 'form', ['waviness', 'WAVE-PV'], {
      source: `waviness.${which}`,
      flank: which,
      aboutZero: true,
    }),
  ];
}

/** Every quantity a plan may set limits for, in the order of the table. */
export const CATALOGUE: readonly CatalogueEntry[] = [
  entry('chord', 'Chord', 'mm', 'thickness', ['chord', 'CH-FAR'], { source: 'chordFar' }),
  entry('chordFar', 'Chord, farthest points', 'mm', 'thickness', ['chord', 'CH-FAR'], MAIN),
  entry('chordBitangent', 'Chord, straight edge', 'mm', 'thickness', ['chord', 'CH-BT'], MAIN),
  entry('chordAxial', 'Chord, axial', 'mm', 'thickness', ['chord', 'CH-AX'], MAIN_PLACED),
  entry('chordCamber', 'Chord, ends of camber line', 'mm', 'thickness', ['chord', 'CH-CAM']),
  entry('stagger', 'Stagger', 'deg', 'angle', ['stagger', 'CH-FAR'], { placed: true, source: 'staggerFarDeg' }),
  entry('staggerFarDeg', 'Stagger, farthest points', 'deg', 'angle', ['stagger', 'CH-FAR'], MAIN_PLACED),
  entry('staggerBitangentDeg', 'Stagger, straight edge', 'deg', 'angle', ['stagger', 'CH-BT'], PLACED),
  entry('staggerCamberDeg', 'Stagger, ends of camber line', 'deg', 'angle', ['stagger', 'CH-CAM'], PLACED),
  entry('thicknessMax', 'Largest thickness', 'mm', 'thickness', ['thickness-max', 'T-MIC'], MAIN),
  entry('thicknessPlace', 'Place of the largest thickness', '1', 'none', ['thickness-max', 'T-POS'], FIXED),
  entry('thickness', 'Thickness', 'mm', 'thickness', ['thickness', 'T-MIC'], {
    list: 'fraction',
    source: 'thicknessAt',
  }),
  entry('thicknessAt', 'Thickness', 'mm', 'thickness', ['thickness', 'T-MIC'], { list: 'fraction' }),
  entry('area', 'Area', 'mm2', 'area', ['area-property', 'AREA'], { main: true, fixed: true }),
  entry('perimeter', 'Perimeter', 'mm', 'perimeter', ['area-property', 'PERIMETER'], FIXED),
  entry('centroidX', 'Centroid X', 'mm', 'middle', ['area-property', 'CENTROID-X'], MIDDLE),
  entry('centroidY', 'Centroid Y', 'mm', 'middle', ['area-property', 'CENTROID-Y'], MIDDLE),
  entry('principalAxisDeg', 'Principal axis', 'deg', 'angle', ['area-property', 'PRINCIPAL-AXIS'], MIDDLE),
  moment('ixx', 'Second moment Ixx', 'I-XX'),
  moment('iyy', 'Second moment Iyy', 'I-YY'),
  moment('ixy', 'Product moment Ixy', 'I-XY'),
  moment('i1', 'Least second moment', 'I-1'),
  moment('i2', 'Greatest second moment', 'I-2'),
  entry('camberAngle', 'Camber angle', 'deg', 'angle', ['camber-angle', 'MA-END'], { source: 'camberAngleDeg' }),
  entry('camberAngleDeg', 'Camber angle', 'deg', 'angle', ['camber-angle', 'MA-END'], MAIN),
  entry('metalAngleLeading', 'Metal angle, leading edge', 'deg', 'angle', ['metal-angle', 'MA-END'], {
    placed: true,
    edge: 'leading',
    source: 'metalAngleLeadingDeg',
  }),
  entry('metalAngleLeadingDeg', 'Metal angle, leading edge', 'deg', 'angle', ['metal-angle', 'MA-END'], {
    ...MAIN_PLACED,
    edge: 'leading',
  }),
  entry('metalAngleTrailing', 'Metal angle, trailing edge', 'deg', 'angle', ['metal-angle', 'MA-END'], {
    placed: true,
    edge: 'trailing',
    source: 'metalAngleTrailingDeg',
  }),
  entry('metalAngleTrailingDeg', 'Metal angle, trailing edge', 'deg', 'angle', ['metal-angle', 'MA-END'], {
    ...MAIN_PLACED,
    edge: 'trailing',
  }),
  entry('camberMax', 'Largest camber', 'mm', 'height', ['camber-max', 'F-MAX'], MAIN),
  ...edge('leadingEdge', 'leading', 'Leading-edge'),
  ...edge('trailingEdge', 'trailing', 'Trailing-edge'),
  ...flank('suctionSide', 'suction', 'Suction-side'),
  ...flank('pressureSide', 'pressure', 'Pressure-side'),
  entry('throat', 'Throat', 'mm', 'gap', ['throat', 'THROAT'], { ...ASKED, placed: true }),
  entry('twist', 'Twist', 'deg', 'angle', ['twist', 'TWIST-FIT'], {
    placed: true,
    aboutZero: true,
    source: 'twistFitDeg',
  }),
  entry('twistFitDeg', 'Twist, best fit of the section', 'deg', 'angle', ['twist', 'TWIST-FIT'], MOTION),
  entry('twistChordDeg', 'Twist, by the chord', 'deg', 'angle', ['twist', 'TWIST-CHORD'], MOTION),
  entry('displacement', 'Displacement', 'mm', 'motion', ['displacement', 'DISPLACEMENT-X'], {
    placed: true,
    aboutZero: true,
    source: 'displacementX',
  }),
  entry('displacementX', 'Displacement X', 'mm', 'motion', ['displacement', 'DISPLACEMENT-X'], {
    ...MOTION,
    fixed: true,
  }),
  entry('displacementY', 'Displacement Y', 'mm', 'motion', ['displacement', 'DISPLACEMENT-Y'], {
    ...MOTION,
    fixed: true,
  }),
  middleShift('displacementCamberX', 'Displacement X, mid camber line', 'DISPLACEMENT-X'),
  middleShift('displacementCamberY', 'Displacement Y, mid camber line', 'DISPLACEMENT-Y'),
  middleShift('displacementChord', 'Displacement along the chord', 'DISPLACEMENT-CHORD'),
  middleShift('displacementNormal', 'Displacement normal to the chord', 'DISPLACEMENT-NORMAL'),
  entry('bow', 'Bow', 'mm', 'height', [null, 'BOW-END'], { scope: 'span', main: true, aboutZero: true }),
  entry('leanDeg', 'Lean', 'deg', 'angle', [null, 'LEAN-LSQ'], { ...MOTION, scope: 'span' }),
  entry('sweepDeg', 'Sweep', 'deg', 'angle', [null, 'SWEEP-LSQ'], { ...MOTION, scope: 'span' }),
  entry('untwistDeg', 'Untwist, tip against root', 'deg', 'angle', [null, 'UNTWIST-LSQ'], {
    scope: 'span',
    main: true,
    aboutZero: true,
  }),
];

/** The entry of a path, or undefined. */
export function catalogueEntry(of: string): CatalogueEntry | undefined {
  return CATALOGUE.find((candidate) => candidate.of === of);
}
