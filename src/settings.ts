import { type Warning, warning } from './error.ts';
import type { NominalBlade } from './fit/nominal-blade.ts';
import type { SectionTask } from './measure/compare-section.ts';
import type { Plan, PlanDefinition } from './model/plan.ts';
import type { ProbeStatement } from './model/shape.ts';
import type { RotationOrder } from './place/pose-readings.ts';
import { cutSection } from './section/cut-section.ts';
import type { SectionCut } from './section/section-cut.ts';

export type Axis = 'x' | 'y' | 'z' | 'rx' | 'ry' | 'rz';

/** Every setting of the main job; the results file records the effective ones. Lengths in mm. */
export interface InspectSettings {
  /** Section heights; null: those of the section table, else every 10 % of the aerofoil's span. */
  heights: number[] | null;
  leadingEdgeTowards: '+X' | '-X' | '+Y' | '-Y';
  /** Axes held during the best fit. */
  locks: Axis[];
  /** Pivot of section motions and of the pose's readings; null: the Z axis, for the pose at mid-span. */
  pivot: [number, number, number] | null;
  rotationOrder: RotationOrder;
  /** Cell side of the surface map. */
  mapCell: number;
  /** Half thickness of the slab of a cloud section. */
  slabHalfThickness: number;
  /** Points farther from the nominal than this are not the aerofoil; null: 3 % of the span, at least 2 mm. */
  gate: number | null;
  /** Set-backs from the edges for the thickness there. */
  setbacks: number[];
  /** Half angle of normal direction of the edge circle (degrees). */
  edgeHalfAngleDeg: number;
  bowReference: 'BOW-END' | 'BOW-LSQ';
  /** Definitions chosen for whole quantities. */
  definitions: PlanDefinition[];
  /** How probed points are to be read; null: as the measured files say. */
  probe: ProbeStatement | null;
}

export const INSPECT_DEFAULTS: InspectSettings = {
  heights: null,
  leadingEdgeTowards: '-X',
  locks: [],
  pivot: null,
  rotationOrder: 'RzRyRx',
  mapCell: 0.5,
  slabHalfThickness: 1,
  gate: null,
  setbacks: [1, 2],
  edgeHalfAngleDeg: 60,
  bowReference: 'BOW-END',
  definitions: [],
  probe: null,
};

/** Returns the name of a section that has none: its height (mm). */
export function sectionId(height: number): string {
  return `z${Number(height.toFixed(3))}`;
}

/** Returns the settings in force: the caller's over the plan's over the defaults. */
export function effectiveSettings(given: Partial<InspectSettings> | undefined, plan: Plan | null): InspectSettings {
  const fromPlan: Partial<InspectSettings> = {
    ...(plan?.leadingEdgeTowards ? { leadingEdgeTowards: plan.leadingEdgeTowards } : {}),
    ...(plan?.sections?.heights ? { heights: plan.sections.heights } : {}),
    ...(plan?.setbacks ? { setbacks: plan.setbacks } : {}),
    ...(plan?.definitions ? { definitions: plan.definitions } : {}),
    ...(plan?.pivot ? { pivot: plan.pivot } : {}),
  };
  const probe = plan?.probe || given?.probe ? { ...plan?.probe, ...given?.probe } : null;
  return { ...INSPECT_DEFAULTS, ...fromPlan, ...given, probe };
}

/** Sections of a blade without a section table: every tenth of the span. */
const TENTHS = 10;
/** Heights this close (mm) to a section of the drawing are that section. */
const SAME_HEIGHT = 1e-6;

/** Returns a warning for each asked height that lies outside the aerofoil's span. */
export function heightWarnings(blade: NominalBlade, settings: InspectSettings): Warning[] {
  const { heights } = blade.surface;
  const [low, high] = [heights[0], heights[heights.length - 1]];
  return (settings.heights ?? [])
    .filter((height) => height < low - SAME_HEIGHT || height > high + SAME_HEIGHT)
    .map((height) =>
      warning(
        'section/outside-span',
        `The nominal aerofoil reaches from ${low.toFixed(3)} to ${high.toFixed(3)} mm; there is no section at ${height} mm.`,
        `height ${height} mm`,
        'Ask for heights within the span.',
      ),
    );
}

/**
 * Returns the sections to be measured, rising: at the asked heights, else at those of the section table, else at every
 * tenth of the span, and by the cuts. Where the drawing has the section, its own outline is the nominal.
 * @param fromTable true when the nominal was given as a section table
 * @throws plan/cut-… for a cut that is no section of the blade
 */
export function sectionTasks(
  blade: NominalBlade,
  settings: InspectSettings,
  fromTable: boolean,
  cuts: readonly SectionCut[] = [],
): SectionTask[] {
  const { sections, surface } = blade;
  const low = surface.heights[0];
  const span = surface.heights[surface.heights.length - 1] - low;
  const wanted =
    settings.heights ??
    (fromTable
      ? sections.map((section) => section.height)
      : Array.from({ length: TENTHS + 1 }, (_, i) => low + (span * i) / TENTHS));
  const level = wanted
    .filter((height) => height >= low - SAME_HEIGHT && height <= low + span + SAME_HEIGHT)
    .map((height): SectionTask => {
      const own = fromTable ? sections.find((section) => Math.abs(section.height - height) <= SAME_HEIGHT) : undefined;
      return own
        ? { id: own.id, height: own.height, exact: { outline: own.outline, edges: own.edges } }
        : { id: sectionId(height), height, exact: null };
    });
  if (cuts.length === 0) return level;
  const cut = cuts.map((cut) => ({ id: cut.id, height: cut.height, exact: null, on: cutSection(surface, cut) }));
  return [...level, ...cut].sort((a, b) => a.height - b.height);
}
