import type { NominalSurface } from '../model/surface.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import type { SectionCut } from './section-cut.ts';

/** A section of one nominal surface: where it runs on the surface, and flat coordinates of points in it (mm). */
export interface SurfaceSection {
  surface: NominalSurface;
  /** The cut; null for a plane across Z at `height`. */
  cut: SectionCut | null;
  height: number;
  /** Lowest and highest place of the section on the surface (mm). */
  from: number;
  to: number;
  /** Height at which the section passes position `u` of the surface (mm). */
  heightAt: (u: number) => number;
  /** Writes x, y of the point in the section that lies `deviation` along the surface's normal outside position `u`. */
  carry: (u: number, deviation: number, out: Float64Array) => void;
  /** Writes x, y of a nominal point moved outward within the section, a stand-in for missing points. */
  standIn: (u: number, deviation: number, out: Float64Array) => void;
  /** Length along the section from the leading edge (mm, suction side negative). */
  alongAt: (u: number) => number;
}

/** Returns the nominal's edge points in a section, which tell a measured section's edges apart. */
export function edgeHint(on: SurfaceSection): { leading: [number, number]; trailing: [number, number] } {
  const out = new Float64Array(2);
  const at = (u: number): [number, number] => {
    on.carry(u, 0, out);
    return [out[0], out[1]];
  };
  return { leading: at(0), trailing: at(on.surface.columns[0]) };
}

/** Returns the section of a surface by the plane across Z at a height. */
export function levelSection(surface: NominalSurface, height: number): SurfaceSection {
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const at = (u: number, z: number): void => {
    evaluateSurface(surface, u, z, place);
    placeNormal(surface, place, normal);
  };
  return {
    surface,
    cut: null,
    height,
    from: height,
    to: height,
    heightAt: () => height,
    carry: (u, deviation, out) => {
      at(u, height);
      // The foot's own height, so that foot plus offset lies at the section's height.
      const footHeight = height - deviation * normal[2];
      if (footHeight !== height) at(u, footHeight);
      out[0] = place[0] + deviation * normal[0];
      out[1] = place[1] + deviation * normal[1];
    },
    standIn: (u, deviation, out) => {
      at(u, height);
      const size = Math.hypot(normal[0], normal[1]);
      out[0] = place[0] + (deviation * normal[0]) / size;
      out[1] = place[1] + (deviation * normal[1]) / size;
    },
    alongAt: (u) => alongAt(surface, u, height),
  };
}
