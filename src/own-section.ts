import type { Section } from './measure/section-context.ts';
import type { RunContext } from './model/context.ts';
import type { InspectSettings } from './settings.ts';
import type { FeetFinder } from './spatial/find-feet.ts';

/** A run context with, where there are worker threads, a finder that uses them. */
export type ShapeContext = RunContext & { finder?: FeetFinder };

/** A section of a shape by itself. */
export interface OwnSection {
  id: string;
  height: number;
  coverage: number | null;
  section: Section;
}

/** Sections wanted of a shape without any of its own: every tenth of the span. */
const TENTHS = 10;

/** Returns the heights to be measured between two ends: those asked for, else every tenth of the span (mm). */
export function wantedHeights(low: number, high: number, settings: InspectSettings): number[] {
  if (settings.heights) return settings.heights.filter((height) => height >= low && height <= high);
  return Array.from({ length: TENTHS + 1 }, (_, i) => low + ((high - low) * i) / TENTHS);
}
