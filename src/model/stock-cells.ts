/** One zone a blank's stock is held against. Lengths in mm. */
export interface StockZone {
  name: string;
  /** Least stock wanted, and most allowed; null: no upper limit. */
  least: number;
  most: number | null;
  /** Share of the spare stock this zone takes when it is shared: spare = (stock − least) / weight. */
  weight: number;
}

/**
 * Stock of a blank on cells of the finished surface, each averaged over enough points to calm the noise. Arrays run
 * parallel over the cells; positive is material outside the finished surface.
 */
export interface StockCells {
  count: number;
  /** Place on the surface: outline position (mm, see NominalSurface), length from the leading edge and height (mm). */
  u: Float64Array;
  along: Float64Array;
  height: Float64Array;
  /** Point of the finished surface and its outward unit normal in the blade frame, x0, y0, z0, x1, … */
  point: Float64Array;
  normal: Float64Array;
  /** Mean stock and its standard uncertainty (mm); NaN where not measured. */
  stock: Float64Array;
  uStock: Float64Array;
  /** Area on the finished surface (mm²). */
  area: Float64Array;
  /** Measured points in the cell. */
  points: Uint32Array;
  /** Index of the zone it belongs to, −1 for none. */
  zone: Int16Array;
}
