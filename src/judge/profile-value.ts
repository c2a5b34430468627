/** The profile zone: material allowed outside nominal (`plus`) and missing from it (`minus`), both positive amounts (mm). */
export interface ProfileZone {
  plus: number;
  minus: number;
}

/**
 * Zone value V = t + 2 max(dmax − to, −dmin − ti): the width the zone would need if both boundaries grew equally until
 * they held the surface. Equal to 2 max|d − c| about the zone centre c. It conforms when V ≤ t = plus + minus.
 * Source: profile of a surface, ASME Y14.5.1 reading for unequal zones.
 * @param least lowest deviation dmin (mm, positive = material outside nominal)
 * @param most highest deviation dmax (mm)
 */
export function profileValue(least: number, most: number, zone: ProfileZone): number {
  return zone.plus + zone.minus + 2 * Math.max(most - zone.plus, -least - zone.minus);
}

/**
 * The extreme whose excess sets the zone value. The standard uncertainty of V is twice that of this extreme, since the
 * excess counts twice.
 */
export function governingExtreme(least: number, most: number, zone: ProfileZone): 'least' | 'most' {
  return most - zone.plus >= -least - zone.minus ? 'most' : 'least';
}
