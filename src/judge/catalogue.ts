/** How an error of the equipment at a surface point enters a quantity. */
export type EquipmentEffect =
  /** Place of one surface, radius: as it is. */
  | 'one-point'
  /** Distance between two surface points measured apart: √2. */
  | 'two-points'
  /** Angle of a line over the chord: √2 over the chord. */
  | 'angle'
  /** All points outward together: times the perimeter. */
  | 'perimeter'
  | 'none';

export interface CatalogueEntry {
  /** Path of the value in a section result or in the span trends. */
  of: string;
  name: string;
  unit: 'mm' | 'deg' | 'mm2' | '1';
  scope: 'section' | 'span';
  /** Listed when the plan names no characteristics. */
  main: boolean;
  /** Depends on how the measured part was placed, by shift or by turn. */
  placed: boolean;
  effect: EquipmentEffect;
  /** Deviation by nature: its requirement is 0 where the plan gives none. */
  aboutZero: boolean;
  /** What `at` means where the value is a list. */
  list: 'fraction' | 'setback' | null;
}

type Traits = Partial<Omit<CatalogueEntry, 'of' | 'name' | 'unit' | 'effect'>>;

function entry(
  of: string,
  name: string,
  unit: CatalogueEntry['unit'],
  effect: EquipmentEffect,
  traits: Traits = {},
): CatalogueEntry {
  return {
    of,
    name,
    unit,
    effect,
    scope: 'section',
    main: false,
    placed: false,
    aboutZero: false,
    list: null,
    ...traits,
  };
}

const MAIN: Traits = { main: true };
const PLACED: Traits = { placed: true };
const MAIN_PLACED: Traits = { main: true, placed: true };
const MOTION: Traits = { main: true, placed: true, aboutZero: true };

function edge(key: 'leadingEdge' | 'trailingEdge', word: string): CatalogueEntry[] {
  return [
    entry(`${key}.radiusFit`, `${word} radius, fitted circle`, 'mm', 'one-point', MAIN),
    entry(`${key}.radiusNose`, `${word} radius at the nose`, 'mm', 'one-point', MAIN),
    entry(`${key}.ellipseA`, `${word} ellipse, half axis along`, 'mm', 'one-point'),
    entry(`${key}.ellipseB`, `${word} ellipse, half axis across`, 'mm', 'one-point'),
    entry(`${key}.ellipseNoseRadius`, `${word} ellipse, nose radius`, 'mm', 'one-point'),
    entry(`${key}.thicknessAt`, `${word} thickness`, 'mm', 'two-points', { main: true, list: 'setback' }),
    entry(`${key}.fullness`, `${word} fullness`, '1', 'none'),
    entry(`${key}.flatLength`, `${word} flat length`, 'mm', 'two-points'),
    entry(`${key}.asymmetry`, `${word} asymmetry`, '1', 'none'),
    entry(`${key}.pointX`, `${word} point X`, 'mm', 'one-point', PLACED),
    entry(`${key}.pointY`, `${word} point Y`, 'mm', 'one-point', PLACED),
  ];
}

/** Every quantity a plan may set limits for, in the order of the table. */
export const CATALOGUE: readonly CatalogueEntry[] = [
  entry('chordFar', 'Chord, farthest points', 'mm', 'two-points', MAIN),
  entry('chordBitangent', 'Chord, straight edge', 'mm', 'two-points', MAIN),
  entry('chordAxial', 'Chord, axial', 'mm', 'two-points', MAIN_PLACED),
  entry('chordCamber', 'Chord, ends of camber line', 'mm', 'two-points'),
  entry('staggerFarDeg', 'Stagger, farthest points', 'deg', 'angle', MAIN_PLACED),
  entry('staggerBitangentDeg', 'Stagger, straight edge', 'deg', 'angle', PLACED),
  entry('staggerCamberDeg', 'Stagger, ends of camber line', 'deg', 'angle', PLACED),
  entry('thicknessMax', 'Largest thickness', 'mm', 'two-points', MAIN),
  entry('thicknessAt', 'Thickness', 'mm', 'two-points', { list: 'fraction' }),
  entry('area', 'Area', 'mm2', 'perimeter', MAIN),
  entry('perimeter', 'Perimeter', 'mm', 'one-point'),
  entry('centroidX', 'Centroid X', 'mm', 'one-point', PLACED),
  entry('centroidY', 'Centroid Y', 'mm', 'one-point', PLACED),
  entry('principalAxisDeg', 'Principal axis', 'deg', 'angle', PLACED),
  entry('camberAngleDeg', 'Camber angle', 'deg', 'angle', MAIN),
  entry('metalAngleLeadingDeg', 'Metal angle, leading edge', 'deg', 'angle', MAIN_PLACED),
  entry('metalAngleTrailingDeg', 'Metal angle, trailing edge', 'deg', 'angle', MAIN_PLACED),
  entry('camberMax', 'Largest camber', 'mm', 'two-points', MAIN),
  ...edge('leadingEdge', 'Leading-edge'),
  ...edge('trailingEdge', 'Trailing-edge'),
  entry('twistFitDeg', 'Twist, best fit of the section', 'deg', 'angle', MOTION),
  entry('twistChordDeg', 'Twist, by the chord', 'deg', 'angle', MOTION),
  entry('displacementX', 'Displacement X', 'mm', 'one-point', MOTION),
  entry('displacementY', 'Displacement Y', 'mm', 'one-point', MOTION),
  entry('bow', 'Bow', 'mm', 'two-points', { scope: 'span', main: true, aboutZero: true }),
  entry('leanDeg', 'Lean', 'deg', 'angle', { ...MOTION, scope: 'span' }),
  entry('sweepDeg', 'Sweep', 'deg', 'angle', { ...MOTION, scope: 'span' }),
  entry('untwistDeg', 'Untwist, tip against root', 'deg', 'angle', { scope: 'span', main: true, aboutZero: true }),
];

/** The entry of a path, or undefined. */
export function catalogueEntry(of: string): CatalogueEntry | undefined {
  return CATALOGUE.find((candidate) => candidate.of === of);
}

/**
 * Standard uncertainty (k = 1) that the equipment adds to a quantity, in its unit.
 * @param point standard uncertainty of the equipment at a surface point (mm)
 * @param chord, perimeter of the section (mm), null when unknown
 * @returns null where it cannot be said
 */
export function equipmentUncertainty(
  effect: EquipmentEffect,
  point: number,
  chord: number | null,
  perimeter: number | null,
): number | null {
  if (point === 0 || effect === 'none') return 0;
  if (effect === 'one-point') return point;
  if (effect === 'two-points') return Math.SQRT2 * point;
  if (effect === 'perimeter') return perimeter === null ? null : perimeter * point;
  return chord === null ? null : ((Math.SQRT2 * point) / chord) * (180 / Math.PI);
}
