import { type Drawing, drawingOf } from './drawing.ts';
import type { NominalBlade } from './fit/nominal-blade.ts';
import { edgeReach, judgeZones, middleChord } from './judge/zones.ts';
import { judgeResults } from './judge-results.ts';
import {
  type ComparedSection,
  compareContexts,
  type SectionSource,
  type SectionTask,
} from './measure/compare-section.ts';
import { comparedResult } from './measure/compared-result.ts';
import { sectionTrends } from './measure/section-trends.ts';
import { breathe, type RunContext } from './model/context.ts';
import type { Plan } from './model/plan.ts';
import type { Relation } from './model/relation.ts';
import type { Deviation, Results, SectionResult } from './model/results.ts';
import { mirroredPoints } from './place/coarse-pose.ts';
import { placePart } from './place/place-part.ts';
import { givenPlacement, toAlignment } from './place/to-alignment.ts';
import { type PlaceFunction, placeProbed } from './place-probed.ts';
import { type InspectInput, type PipelineContext, prepare } from './prepare.ts';
import { offsetWarnings } from './probed-points.ts';
import type { KeptInspection } from './redefine.ts';
import { cellPoints } from './relate/cell-points.ts';
import { deviationStatistics } from './relate/deviation-statistics.ts';
import { faultRecords, restoreInMap } from './relate/fault-records.ts';
import { findLocalFaults, keepFaultPoints, type LocalFault } from './relate/faults-find.ts';
import { leftOut } from './relate/left-out.ts';
import { outlierList } from './relate/outlier-list.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, type SurfaceMap, surfaceMap } from './relate/surface-map.ts';
import { pointsByHeight, SLAB_DEFAULTS } from './section/slab-points.ts';
import { heightWarnings, type InspectSettings } from './settings.ts';
import { findFeetHere } from './spatial/find-feet.ts';
import type { NominalTarget } from './spatial/nominal-target.ts';
import { stopwatch } from './stopwatch.ts';

export interface Inspection {
  results: Results;
  drawing: Drawing;
  /** What `redefine` and `measureOne` work on. */
  kept: KeptInspection;
}

/**
 * Runs the main job: placement, surface map, sections, characteristics, verdicts and answers of a measured part against
 * its nominal. The same numbers whatever the platform and the number of threads.
 * @throws shape/… for a nominal that is no blade, usage/pose, place/… for a part that cannot be placed, `cancelled`
 */
export async function inspect(input: InspectInput, context: PipelineContext): Promise<Inspection> {
  const clock = stopwatch();
  const { head, plan, settings, blade, target, tasks } = await prepare(input, context);
  clock.lap('nominal');

  const finder = context.finder ?? findFeetHere;
  const quiet: RunContext = context.signal ? { signal: context.signal } : {};
  const place: PlaceFunction = (measured, near) =>
    placePart(
      target,
      measured,
      {
        locks: settings.locks,
        pivot: settings.pivot,
        rotationOrder: settings.rotationOrder,
        gate: settings.gate ?? near?.gate ?? null,
        given: near ?? (input.pose ? givenPlacement(input.pose) : null),
        // With locks a given pose is where the fit starts; without, it is the placement.
        refine: near !== undefined || settings.locks.length > 0,
        ...(near ? { oversize: 'free' } : {}),
        acceptPose: input.acceptPose ?? false,
      },
      context,
      (points, feet, farthest) => finder(target, points, null, feet, farthest, quiet),
    );
  const { probed, placed } = await placeProbed(input.measured, settings, target, place);
  const { positions } = probed;
  clock.lap('place');

  const points = placed.handedness === 'mirrored' ? mirroredPoints(positions) : positions;
  const relation = await relatePoints(target, points, placed.pose, { gate: placed.gate, finder }, context);
  const map = surfaceMap(blade.surface, relation, { ...MAP_DEFAULTS, cell: settings.mapCell });
  const faults = findLocalFaults(blade.surface, relation, map.noise);
  restoreInMap(map, relation, keepFaultPoints(relation, faults));
  clock.lap('relate');
  await breathe(context);

  const compared = await compareSections(tasks, target, relation, map, faults, settings, context);
  const sections = compared.map(({ result }) => result);
  clock.lap('sections');

  // Sections of different kinds are not comparable along the span.
  const level = sections.filter((section) => section.cut === undefined);
  const trends = sectionTrends(level, settings.bowReference);
  const deviation = deviationOf(blade, relation, map, level.length > 0 ? level : sections, plan, placed.method);
  const contexts = compared.map(({ section }) => section);
  const judged = judgeResults(
    {
      ...head,
      alignment: { ...toAlignment(placed), leftOut: leftOut(relation) },
      deviation,
      map: map.map,
      sections,
      faults: faultRecords(blade.surface, faults),
      ...(probed.scans.length > 0 ? { scans: probed.scans } : {}),
      trends,
      warnings: [
        ...head.warnings,
        ...probed.warnings,
        ...blade.warnings,
        ...heightWarnings(blade, settings),
        ...placed.warnings,
        ...offsetWarnings(probed, relation),
      ],
    },
    contexts,
    plan,
    settings.definitions,
  );
  clock.lap('judge');
  const whole: Results = { ...judged, timing: clock.seconds() };
  return { results: whole, drawing: drawingOf(target, map), kept: { results: whole, plan, sections: contexts } };
}

/** Measures the sections one by one; a cancel can arrive between two. */
async function compareSections(
  tasks: readonly SectionTask[],
  target: NominalTarget,
  relation: Relation,
  map: SurfaceMap,
  faults: readonly LocalFault[],
  settings: InspectSettings,
  context: RunContext,
): Promise<{ section: ComparedSection; result: SectionResult }[]> {
  const source: SectionSource = {
    surface: target.surface,
    relation,
    sorted: pointsByHeight(relation),
    noise: map.noise,
    pivot: settings.pivot ? [settings.pivot[0], settings.pivot[1]] : [0, 0],
    slab: { ...SLAB_DEFAULTS, halfThickness: settings.slabHalfThickness },
    measure: { setbacks: settings.setbacks, edgeHalfAngleDeg: settings.edgeHalfAngleDeg },
    faults,
  };
  const sections: { section: ComparedSection; result: SectionResult }[] = [];
  for (const [i, task] of tasks.entries()) {
    context.onProgress?.({ step: 'sections', done: i, total: tasks.length });
    await breathe(context);
    const section = compareContexts(source, task);
    sections.push({ section, result: comparedResult(section) });
  }
  return sections;
}

function deviationOf(
  blade: NominalBlade,
  relation: Relation,
  map: SurfaceMap,
  sections: readonly SectionResult[],
  plan: Plan | null,
  method: 'best-fit' | 'given',
): Deviation {
  const zoneMap = { map: map.map, area: map.cells.area, points: cellPoints(blade.surface, map.cells) };
  return {
    count: map.counts.reduce((sum, n) => sum + n, 0),
    ...deviationStatistics(map),
    coverage: map.coverage,
    noise: map.noise,
    outliers: outlierList(blade.surface, relation, map.outliers),
    zones: judgeZones(zoneMap, plan, edgeReach(plan, sections), method, middleChord(sections)),
  };
}

export type { Drawing } from './drawing.ts';
export { measureShape } from './measure-shape.ts';
export type { InspectInput, PipelineContext, PlanInput } from './prepare.ts';
