import { measured, unmeasured, type Value } from '../model/value.ts';
import { type AreaUncertainty, areaUncertainty } from './area-properties.ts';
import { principalMoments } from './second-moments.ts';
import { coveredShare, type SectionContext } from './section-context.ts';

export type AreaId =
  | 'AREA'
  | 'PERIMETER'
  | 'CENTROID-X'
  | 'CENTROID-Y'
  | 'PRINCIPAL-AXIS'
  | 'I-XX'
  | 'I-YY'
  | 'I-XY'
  | 'I-1'
  | 'I-2';

export interface AreaQuantity {
  name: string;
  meaning: string;
  unit: 'mm' | 'mm2' | 'mm4' | 'deg';
}

const ABOUT = 'about the centroid';

/** The area properties, second moments about the centroid. */
export const AREA_QUANTITIES: Record<AreaId, AreaQuantity> = {
  AREA: { name: 'Area', meaning: 'Area inside the outline.', unit: 'mm2' },
  PERIMETER: { name: 'Perimeter', meaning: 'Length of the outline.', unit: 'mm' },
  'CENTROID-X': { name: 'Centroid X', meaning: 'X of the centre of the area.', unit: 'mm' },
  'CENTROID-Y': { name: 'Centroid Y', meaning: 'Y of the centre of the area.', unit: 'mm' },
  'PRINCIPAL-AXIS': {
    name: 'Principal axis',
    meaning: 'Direction of the long principal axis from +X, positive towards +Y.',
    unit: 'deg',
  },
  'I-XX': { name: 'Second moment Ixx', meaning: `Integral of y² over the area, ${ABOUT}.`, unit: 'mm4' },
  'I-YY': { name: 'Second moment Iyy', meaning: `Integral of x² over the area, ${ABOUT}.`, unit: 'mm4' },
  'I-XY': { name: 'Product moment Ixy', meaning: `Integral of xy over the area, ${ABOUT}.`, unit: 'mm4' },
  'I-1': { name: 'Least second moment', meaning: `Second moment ${ABOUT} and the long principal axis.`, unit: 'mm4' },
  'I-2': {
    name: 'Greatest second moment',
    meaning: `Second moment ${ABOUT} and the principal axis across the long one.`,
    unit: 'mm4',
  },
};

const DEG = 180 / Math.PI;
/** Variance of a plain least-squares fit over that of one with Tukey's weights (cut at 4.685 sigma). */
const ROBUST_EFFICIENCY = 0.95;
const uncertainties = new WeakMap<SectionContext, AreaUncertainty>();
const coverages = new WeakMap<SectionContext, number>();

/** Returns an area property; all stand on the whole outline. */
export function areaValue(context: SectionContext, id: AreaId): Value {
  const { unit } = AREA_QUANTITIES[id];
  const coverage = coverages.get(context) ?? coveredShare(context);
  coverages.set(context, coverage);
  if (coverage < context.options.leastCoverage) {
    const reason = `Only ${(100 * coverage).toFixed(0)} % of the outline has points.`;
    return unmeasured('not-measured', reason, unit, id);
  }
  const { area } = context;
  const moments = principalMoments(area);
  const u = areaUncertaintyOf(context);
  const found: Record<AreaId, [value: number, u: number | undefined]> = {
    AREA: [area.area, u?.area],
    PERIMETER: [area.perimeter, u?.perimeter],
    'CENTROID-X': [area.centroidX, u?.centroidX],
    'CENTROID-Y': [area.centroidY, u?.centroidY],
    'PRINCIPAL-AXIS': [area.axis * DEG, u && u.axis * DEG],
    'I-XX': [area.ixx, u?.ixx],
    'I-YY': [area.iyy, u?.iyy],
    'I-XY': [area.ixy, u?.ixy],
    'I-1': [moments.least, u?.least],
    'I-2': [moments.greatest, u?.greatest],
  };
  const [value, own] = found[id];
  const { centroidX, centroidY } = area;
  const evidence = { coverage, centroidX, centroidY, axisDeg: area.axis * DEG };
  return measured(value, own ?? null, unit, id, { evidence });
}

/** Standard uncertainties of the area properties, undefined without noise; made once a context. */
function areaUncertaintyOf(context: SectionContext): AreaUncertainty | undefined {
  const { noise, section, area } = context;
  if (!noise) return undefined;
  let found = uncertainties.get(context);
  if (!found) {
    found = areaUncertainty(section.outline, area, (t) => (noise.at(t) ** 2 * noise.window(t)) / ROBUST_EFFICIENCY);
    uncertainties.set(context, found);
  }
  return found;
}
