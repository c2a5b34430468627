import type { Results, SectionResult } from '../../src/model/results.ts';
import { nearestIndex, type Selection, selectPlace, selectSection } from '../state/selection.ts';

/**
 * What a key means on a plot of one section: arrows step through its real data points, PgUp and PgDn change the section.
 * Returns null for keys with no meaning here.
 */
export function sectionKey(
  key: string,
  far: boolean,
  results: Results,
  section: SectionResult,
  selection: Selection,
): Selection | null {
  const along = section.plot?.along ?? [];
  if ((key === 'ArrowLeft' || key === 'ArrowRight') && along.length > 0) {
    const step = (key === 'ArrowRight' ? 1 : -1) * (far ? 10 : 1);
    const at = Math.max(0, Math.min(along.length - 1, nearestIndex(along, selection.along ?? 0) + step));
    return selectPlace(results, section.height, along[at]);
  }
  if (key === 'PageUp' || key === 'PageDown') {
    const sorted = [...results.sections].sort((a, b) => a.height - b.height);
    const at = sorted.findIndex((s) => s.id === section.id) + (key === 'PageUp' ? 1 : -1);
    const next = sorted[at];
    return next ? selectSection(results, selection, next.id) : null;
  }
  return null;
}
