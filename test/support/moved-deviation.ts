import { type BladeLaw, sectionDistance } from '../../samples/blade.ts';
import { apply3, invertPose, movePoint } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';

/**
 * True deviation (mm) of a closed-form blade moved by `extra`: distance from the nominal place at (along, height) along
 * the nominal's normal to the moved blade, by Newton on the blade's own section distance.
 */
export function movedDeviation(
  surface: NominalSurface,
  blade: BladeLaw,
  extra: Pose,
  along: number,
  height: number,
): number {
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const found = new Float64Array(6);
  evaluateSurface(surface, columnAt(surface, along, height), height, place);
  placeNormal(surface, place, normal);
  const back = invertPose(extra);
  const turned = apply3(back.rotation, normal);
  let reach = 0;
  for (let i = 0; i < 40; i++) {
    const [x, y, z] = movePoint(
      back,
      [0, 1, 2].map((k) => place[k] + reach * normal[k]),
    );
    sectionDistance(blade, x, y, z, found);
    const step = found[0] / (found[1] * turned[0] + found[2] * turned[1] + found[3] * turned[2]);
    reach -= step;
    if (Math.abs(step) < 1e-13) break;
  }
  return reach;
}

/** Position `u` whose length along the outline is `along`, by bisection. */
function columnAt(surface: NominalSurface, along: number, height: number): number {
  let low = surface.columns[0];
  let high = surface.columns[surface.columns.length - 1];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (alongAt(surface, middle, height) < along) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
