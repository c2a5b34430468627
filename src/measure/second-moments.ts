import type { AreaProperties } from './area-properties.ts';

/** Principal second moments about the centroid (mm⁴): about the long axis and about the one across it. */
export interface PrincipalMoments {
  least: number;
  greatest: number;
}

/** Returns the principal second moments of area: mean of Ixx and Iyy plus or minus the radius of Mohr's circle. */
export function principalMoments({ ixx, iyy, ixy }: AreaProperties): PrincipalMoments {
  const middle = 0.5 * (ixx + iyy);
  const radius = Math.hypot(0.5 * (iyy - ixx), ixy);
  const greatest = middle + radius;
  return { least: (ixx * iyy - ixy * ixy) / greatest, greatest };
}
