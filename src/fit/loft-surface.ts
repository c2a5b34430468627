import { CamberwrightError } from '../error.ts';
import { splineSlopes } from '../math/cubic-spline.ts';
import type { Outline, SectionEdges } from '../model/outline.ts';
import type { NominalSurface } from '../model/surface.ts';
import { columnsBetween, type LoftRow, lengthOfColumn, signedLength, wantedSpacing } from './loft-columns.ts';
import { arcTable, lengthAtParameter, parameterAtLength } from './outline-arc-table.ts';
import { evaluateOutline } from './outline-evaluate.ts';

/** An outline at its height with its edges found. */
export interface LoftSection {
  id: string;
  /** mm */
  height: number;
  outline: Outline;
  edges: SectionEdges;
}

/**
 * Returns the smooth nominal surface through closed section outlines: C² cubic along the outline and along the span,
 * interpolated in a frame that turns with the leading-to-trailing-edge direction. Exact at the given sections (to the
 * column spacing, below 1e-5 mm), corners kept where every section has the same ones.
 * @param sections rising in height, at least two
 * @throws shape/too-few-sections with fewer than two heights
 */
export function loftSurface(sections: readonly LoftSection[]): NominalSurface {
  if (sections.length < 2) {
    throw new CamberwrightError('shape/too-few-sections', 'A blade surface needs sections at two heights or more.', {
      where: sections.length === 1 ? `section ${sections[0].id}` : 'section table',
      remedy: 'Give sections at two or more heights.',
    });
  }
  const rows = sections.map(loftRow);
  const keepCorners = rows.every(
    (row) =>
      row.cornerAtTrailing === rows[0].cornerAtTrailing &&
      row.corners.filter((c) => c < 0).length === rows[0].corners.filter((c) => c < 0).length &&
      row.corners.length === rows[0].corners.length,
  );
  const anchors = rows.map((row) => [-row.suctionLength, ...(keepCorners ? row.corners : []), row.pressureLength]);
  const anchorsU = anchors[0].map((_, i) => anchors.reduce((sum, list) => sum + list[i], 0) / anchors.length);
  const cornerAtTrailing = keepCorners && rows[0].cornerAtTrailing;
  const closedSmoothly = anchorsU.length === 2 && !cornerAtTrailing;
  const columns = columnsOf(rows, anchorsU);
  const width = columns.length;
  const heights = Float64Array.from(sections, (section) => section.height);
  const count = heights.length;

  const frame = sectionFrames(sections);
  const nodes = new Float64Array(count * width * 8);
  const along = new Float64Array(count * width);
  const out = new Float64Array(8);
  for (let r = 0; r < count; r++) {
    const row = rows[r];
    const cos = Math.cos(frame.twist[r]);
    const sin = Math.sin(frame.twist[r]);
    for (let c = 0; c < width; c++) {
      const length = lengthOfColumn(columns[c], anchorsU, anchors[r], closedSmoothly);
      along[r * width + c] = length;
      const ahead = row.direction * length;
      const t = parameterAtLength(row.table, ahead < 0 ? ahead + row.table.perimeter : ahead);
      evaluateOutline(row.outline, t, out);
      const dx = out[0] - frame.centreX[r];
      const dy = out[1] - frame.centreY[r];
      const at = (r * width + c) * 8;
      nodes[at] = cos * dx + sin * dy;
      nodes[at + 1] = cos * dy - sin * dx;
    }
  }
  fillSlopes(nodes, heights, columns, closedSmoothly);
  return {
    heights,
    columns,
    nodes,
    closedSmoothly,
    cornerAtTrailing,
    orientation: rows[0].direction,
    ...frame,
    along,
    sectionIds: sections.map((section) => section.id),
  };
}

function loftRow(section: LoftSection): LoftRow {
  const { outline, edges } = section;
  const table = arcTable(outline, edges.leading);
  const toTrailing = lengthAtParameter(table, edges.trailing);
  const direction = edges.firstSide === 'pressure' ? 1 : -1;
  const pressureLength = direction > 0 ? toTrailing : table.perimeter - toTrailing;
  const row: LoftRow = {
    outline,
    table,
    direction,
    pressureLength,
    suctionLength: table.perimeter - pressureLength,
    corners: [],
    cornerAtTrailing: false,
  };
  const tolerance = 1e-7 * table.perimeter;
  for (const corner of outline.corners) {
    const length = signedLength(row, corner);
    if (Math.min(row.pressureLength - length, length + row.suctionLength) < tolerance) row.cornerAtTrailing = true;
    else row.corners.push(length);
  }
  row.corners.sort((a, b) => a - b);
  return row;
}

function columnsOf(rows: readonly LoftRow[], anchorsU: readonly number[]): Float64Array {
  const uMin = anchorsU[0];
  const uMax = anchorsU[anchorsU.length - 1];
  const spacing = wantedSpacing(rows, uMin, uMax);
  const columns: number[] = [];
  for (let i = 0; i + 1 < anchorsU.length; i++) {
    const parts =
      anchorsU[i] < 0 && anchorsU[i + 1] > 0 ? [anchorsU[i], 0, anchorsU[i + 1]] : [anchorsU[i], anchorsU[i + 1]];
    for (let k = 0; k + 1 < parts.length; k++) {
      const piece = columnsBetween(parts[k], parts[k + 1], spacing, uMin, uMax);
      columns.push(...(k === 0 ? piece : piece.slice(1)));
    }
  }
  return Float64Array.from(columns);
}

/** Turning angle and centre of every section with their slopes along the span. */
function sectionFrames(sections: readonly LoftSection[]) {
  const count = sections.length;
  const heights = Float64Array.from(sections, (section) => section.height);
  const twist = new Float64Array(count);
  const centreX = new Float64Array(count);
  const centreY = new Float64Array(count);
  const leading = new Float64Array(8);
  const trailing = new Float64Array(8);
  for (let r = 0; r < count; r++) {
    const { outline, edges } = sections[r];
    evaluateOutline(outline, edges.leading, leading);
    evaluateOutline(outline, edges.trailing, trailing);
    const angle = Math.atan2(trailing[1] - leading[1], trailing[0] - leading[0]);
    const before = r === 0 ? angle : twist[r - 1];
    twist[r] = before + Math.atan2(Math.sin(angle - before), Math.cos(angle - before));
    centreX[r] = (leading[0] + trailing[0]) / 2;
    centreY[r] = (leading[1] + trailing[1]) / 2;
  }
  const slopes = (values: Float64Array): Float64Array => {
    const result = new Float64Array(count);
    splineSlopes(heights, 0, count, values, result, 0, 1, 'free');
    return result;
  };
  return {
    twist,
    twistSlope: slopes(twist),
    centreX,
    centreY,
    centreXSlope: slopes(centreX),
    centreYSlope: slopes(centreY),
  };
}

/** Fills d/du, d/dz and d²/dudz of the nodes with the slopes of C² splines along columns and rows. */
function fillSlopes(nodes: Float64Array, heights: Float64Array, columns: Float64Array, closedSmoothly: boolean): void {
  const width = columns.length;
  const count = heights.length;
  const spread = (values: (c: number) => number, write: (c: number, slope: number) => void): void => {
    const flat = Float64Array.from({ length: width }, (_, c) => values(c));
    const slope = new Float64Array(width);
    let from = 0;
    for (let c = 1; c <= width; c++) {
      if (c < width && columns[c] > columns[c - 1]) continue;
      splineSlopes(columns, from, c - from, flat, slope, from, 1, closedSmoothly ? 'periodic' : 'free');
      from = c;
    }
    for (let c = 0; c < width; c++) write(c, slope[c]);
  };
  for (let r = 0; r < count; r++) {
    for (let k = 0; k < 2; k++) {
      const base = r * width * 8;
      spread(
        (c) => nodes[base + c * 8 + k],
        (c, slope) => {
          nodes[base + c * 8 + 2 + k] = slope;
        },
      );
    }
  }
  const column = new Float64Array(count);
  const slope = new Float64Array(count);
  for (let c = 0; c < width; c++) {
    for (let k = 0; k < 4; k++) {
      for (let r = 0; r < count; r++) column[r] = nodes[(r * width + c) * 8 + k];
      splineSlopes(heights, 0, count, column, slope, 0, 1, 'free');
      for (let r = 0; r < count; r++) nodes[(r * width + c) * 8 + 4 + k] = slope[r];
    }
  }
}
