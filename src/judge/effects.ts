import type { Effect } from './catalogue.ts';

/** What turns an error at the surface into one of a quantity. */
export interface Size {
  /** Chord of the section, or another lever of an angle (mm); null when unknown. */
  chord: number | null;
  perimeter: number | null;
  /** Change of a second moment of area (mm⁴) for a surface grown by 1 mm; null when unknown. */
  momentGain: number | null;
}

/** Change of a quantity for a unit of each error; null where it cannot be said. */
export interface Gains {
  /** Independent errors of 1 mm at the surface points, in the unit of the quantity. */
  equipment: number | null;
  /** Every surface point 1 mm farther out: a tip radius 1 mm too small. */
  tipRadius: number | null;
  /** Relative change of all lengths: the length, area or moment that grows. */
  expansion: number | null;
}

const DEG = 180 / Math.PI;
const NO_GAIN: Gains = { equipment: 0, tipRadius: 0, expansion: 0 };

/**
 * Returns how errors enter a quantity. A tip radius in error moves the whole surface: chord and thickness change twice
 * as much, radius and profile as much, a profile's width twice as much, the area by perimeter times as much, the perimeter by 2π as much; angles, camber,
 * centroid and motions stay. Uniform expansion changes lengths in proportion and no angle. A place of the surface moves
 * against the placement by at most the expansion of half the chord.
 * @param value of the quantity, in its unit
 */
export function gainsOf(effect: Effect, value: number, size: Size): Gains {
  const { chord, perimeter, momentGain } = size;
  const own = Math.abs(value);
  const half = chord === null ? null : chord / 2;
  switch (effect) {
    case 'radius':
      return { equipment: 1, tipRadius: 1, expansion: own };
    case 'thickness':
      return { equipment: Math.SQRT2, tipRadius: 2, expansion: own };
    case 'gap':
      return { equipment: Math.SQRT2, tipRadius: 2, expansion: own };
    case 'height':
      return { equipment: Math.SQRT2, tipRadius: 0, expansion: own };
    case 'point':
      return { equipment: 1, tipRadius: 1, expansion: own };
    case 'middle':
      return { equipment: 1, tipRadius: 0, expansion: own };
    case 'motion':
      return { equipment: 1, tipRadius: 0, expansion: half };
    case 'profile':
      return { equipment: 1, tipRadius: 1, expansion: half };
    case 'profile-width':
      return { equipment: 2, tipRadius: 2, expansion: chord };
    case 'form':
      return { equipment: Math.SQRT2, tipRadius: 0, expansion: own };
    case 'angle':
      return { equipment: chord === null ? null : (Math.SQRT2 / chord) * DEG, tipRadius: 0, expansion: 0 };
    case 'area':
      return { equipment: perimeter, tipRadius: perimeter, expansion: 2 * own };
    case 'perimeter':
      return { equipment: 1, tipRadius: 2 * Math.PI, expansion: own };
    case 'second-moment':
      return { equipment: momentGain, tipRadius: momentGain, expansion: 4 * own };
    case 'none':
      return NO_GAIN;
  }
}
