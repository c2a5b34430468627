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
 * Standard uncertainty of the zone value (mm): twice that of the extreme that governs it, since the excess counts twice.
 * @param uLeast standard uncertainty of `least` (mm)
 * @param uMost standard uncertainty of `most` (mm)
 */
export function profileUncertainty(
  least: number,
  uLeast: number,
  most: number,
  uMost: number,
  zone: ProfileZone,
): number {
  return 2 * (most - zone.plus >= -least - zone.minus ? uMost : uLeast);
}
