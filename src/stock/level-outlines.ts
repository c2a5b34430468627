import { nominalOutline } from '../fit/nominal-outline.ts';
import { outlinePlot } from '../measure/section-plot.ts';
import type { SectionResult } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { cellValueAt } from '../relate/cell-points.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { levelSection } from '../section/surface-section.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';

/**
 * Returns what the plots of a level section draw of a blank: the finished outline, and the stock along it from the map's
 * cells (mm; null = not measured).
 * @param id name of the section
 * @param height of the section (mm)
 */
export function levelOutline(surface: NominalSurface, map: SurfaceMap, id: string, height: number): SectionResult {
  const { columns } = surface;
  const kept = Array.from(columns).filter((u, c) => c === 0 || u > columns[c - 1]);
  const along: number[] = [];
  const deviation: (number | null)[] = [];
  const u: (number | null)[] = [];
  let seen = 0;
  for (let c = 0; c + 1 < kept.length; c++) {
    const middle = (kept[c] + kept[c + 1]) / 2;
    const stock = cellValueAt(map.cells, map.deviation, middle, height);
    const isMeasured = Number.isFinite(stock);
    along.push(alongAt(surface, middle, height));
    deviation.push(isMeasured ? stock : null);
    u.push(isMeasured ? cellValueAt(map.cells, map.u, middle, height) : null);
    if (isMeasured) seen += kept[c + 1] - kept[c];
  }
  const { outline, edges } = nominalOutline(levelSection(surface, height));
  return {
    id,
    height,
    coverage: seen / (kept[kept.length - 1] - kept[0]),
    plot: { nominal: outlinePlot(outline, edges), measured: null, camber: null, along, deviation, u },
  };
}
