import type { LoftSection } from '../../src/fit/loft-surface.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { identityPose } from '../../src/math/rigid.ts';
import type { Plan } from '../../src/model/plan.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import type { NominalTarget } from '../../src/spatial/nominal-target.ts';
import { type AdaptedBlade, type AdaptInput, adaptBlade } from '../../src/stock/adapt-blade.ts';
import { stockCells } from '../../src/stock/stock-cells.ts';
import { stockRecord } from '../../src/stock/stock-record.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';

/** Edge zone of the plan for near-net blanks (mm). */
export const EDGE_ZONE = 5;

/** A plan that keeps flanks within ±0.08 mm as forged and blends new edges into them over 4 mm. */
export function nearNetPlan(adapt: Plan['adapt'] = {}): Plan {
  return planOf(
    {
      schema: 'camberwright/plan',
      schemaVersion: 1,
      edgeZone: EDGE_ZONE,
      setbacks: [0.5, 1],
      zones: [{ name: 'blade', side: 'all', plus: 0.08, minus: 0.08 }],
      stock: { affectedLayer: 0.05, minimumChip: 0.05 },
      adapt: { blend: 4, setback: [0.02, 1], slope: 0.02, ...adapt },
    },
    'plan.json',
  );
}

/** Returns what `adaptBlade` takes for measured points in the nominal's own frame. */
export async function adaptInput(
  target: NominalTarget,
  sections: LoftSection[],
  points: Float64Array,
  plan: Plan,
): Promise<AdaptInput> {
  const { surface } = target;
  const relation = await relatePoints(target, points, identityPose(), { gate: 3 }, {});
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);
  const reach = { leading: plan.edgeZone ?? 2.25, trailing: plan.edgeZone ?? 2.25 };
  const zones = stockZones(plan, surface, reach);
  const input = { surface, map, cells: stockCells(surface, relation, map, zones.reaches), zones, plan };
  return { ...input, blade: { sections }, verdicts: stockRecord(input).zones };
}

/** Returns the blade adapted to measured points. */
export async function adaptPoints(...input: Parameters<typeof adaptInput>): Promise<AdaptedBlade> {
  return adaptBlade(await adaptInput(...input));
}
