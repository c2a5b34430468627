import type { Warning } from './error.ts';
import { findSectionEdges } from './fit/section-edges.ts';
import type { ScanDifference } from './model/results.ts';
import type { LoadedShape, Shape } from './model/shape.ts';
import type { OwnSection } from './own-section.ts';
import { scanWarnings } from './probe/compare-scans.ts';
import { fitCompensated } from './probe/fit-compensated.ts';
import { compensatedSections, type ProbeSettings, passesOf, scansOf } from './probed-points.ts';

/** A shape as it is to be measured without a nominal. */
export interface OwnProbed {
  /** The shape, or a cloud of centres moved onto the part. */
  shape: Shape;
  /** Sections of ball centres moved onto the part, at their own heights; null for any other shape. */
  sections: OwnSection[] | null;
  scans: ScanDifference[];
  warnings: Warning[];
}

/** Returns a shape with its ball centres, if its points are such, moved onto the part. @throws `probe/…` */
export function ownProbed(file: LoadedShape, settings: ProbeSettings): OwnProbed {
  const warnings: Warning[] = [];
  const done = compensatedSections(file, settings, warnings);
  const { shape, name } = file;
  if (done !== null && 'kind' in done) return { shape: done, sections: null, scans: [], warnings };
  const scans = done !== null ? scansOf(done) : shape.kind === 'sections' ? passesOf(shape, settings) : [];
  warnings.push(...scanWarnings(scans, name));
  const sections =
    done?.sections.map((section): OwnSection => {
      const fitted = fitCompensated(section);
      const edges = findSectionEdges(fitted.outline, settings);
      const { id, height } = section;
      return { id, height, coverage: null, section: { outline: fitted.outline, edges, fitted } };
    }) ?? null;
  return { shape, sections, scans, warnings };
}
