import type { Warning } from '../error.ts';

export type LengthUnit = 'mm' | 'inch';

/** What a file, a plan or a user says of probed points; what is absent is not said. */
export interface ProbeStatement {
  /** Centres of the probe's ball, or points already moved from there onto the part. */
  points?: 'centres' | 'compensated' | undefined;
  /** Radius of the probe's ball (mm). */
  tipRadius?: number | undefined;
}

/** Triangles over shared vertices. Coordinates in mm. */
export interface Mesh {
  kind: 'mesh';
  /** x0, y0, z0, x1, … (mm). */
  positions: Float64Array;
  /** Vertex indices, three a triangle, counter-clockwise seen from outside. */
  triangles: Uint32Array;
}

/** Points without connection. Coordinates in mm. */
export interface Cloud {
  kind: 'cloud';
  /** x0, y0, z0, x1, … (mm). */
  positions: Float64Array;
  /** Unit outward normals, same layout; absent when the file has none. */
  normals?: Float64Array;
}

/** The points of one section in file order; may be closed or open, run either way and start anywhere. */
export interface SectionPoints {
  id: string;
  /** Height along the stacking axis (mm). */
  height: number;
  /** x0, y0, x1, … (mm). */
  points: Float64Array;
  /** Direction the file gives with each point, surface normal or approach: unit vectors of either sign, x0, y0, z0, … */
  vectors?: Float64Array;
  /** Points of further passes over the same section, laid out as `points`. */
  again?: Float64Array[];
}

/** Outlines at heights, in order of rising height. Coordinates in mm. */
export interface SectionTable {
  kind: 'sections';
  sections: SectionPoints[];
}

export type Shape = Mesh | Cloud | SectionTable;

/** Axis-aligned box (mm). */
export interface Box {
  min: [number, number, number];
  max: [number, number, number];
}

/** A file as read: the shape in mm and what the reader found out about the file. */
export interface LoadedShape {
  name: string;
  /** Format id of the registry, such as `stl-binary`. */
  format: string;
  /** Unit the file's numbers were read in. */
  unit: LengthUnit;
  /** True when the file itself states the unit. */
  unitStated: boolean;
  /** Lower-case hexadecimal SHA-256 of the bytes. */
  sha256: string;
  bytes: number;
  shape: Shape;
  box: Box;
  /** Counts as found in the file. */
  points: number;
  triangles: number;
  /** What the file says of its probed points; absent when it says nothing. */
  probe?: ProbeStatement;
  warnings: Warning[];
}
