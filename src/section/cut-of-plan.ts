import { CamberwrightError } from '../error.ts';
import { length3, unit3, type Vec3 } from '../math/vec3.ts';
import type { Plan, PlanCut } from '../model/plan.ts';
import { planeCut } from './cut-plane.ts';
import { revolvedCut } from './cut-revolved.ts';
import type { CutRecord, SectionCut } from './section-cut.ts';

/** A section must lie this far off the span's direction (degrees). */
const LEAST_ANGLE_DEG = 10;
const DEG = Math.PI / 180;

/**
 * Returns the sections of a plan that are no planes across Z.
 * @param name file name of the plan, for messages
 * @throws plan/cut-… for one that is no section of a blade along Z, plan/value for an id given twice
 */
export function cutsOfPlan(plan: Plan, name: string): SectionCut[] {
  const cuts = (plan.sections?.cuts ?? []).map((cut, i) => cutOf(cut, plan.engine, `${name}, sections.cuts[${i}]`));
  refuseSameIds(cuts, name);
  return cuts;
}

/** @throws plan/value when two sections have one id */
export function refuseSameIds(sections: readonly { id: string }[], name: string): void {
  const ids = sections.map((section) => section.id);
  const twice = ids.find((id, i) => ids.indexOf(id) !== i);
  if (twice === undefined) return;
  throw new CamberwrightError('plan/value', `Two sections are named "${twice}".`, {
    where: `${name}, sections`,
    remedy: 'Give every section its own id.',
  });
}

/**
 * Returns a section of a plan as a cut.
 * @param where place of the section in the plan, for messages
 * @throws plan/cut-no-engine, plan/cut-normal, plan/cut-radius, plan/cut-angle, plan/cut-along-span
 */
export function cutOf(cut: PlanCut, engine: Plan['engine'], where: string): SectionCut {
  const refuse = (code: string, message: string, remedy: string): never => {
    throw new CamberwrightError(`plan/cut-${code}`, `Section "${cut.id}": ${message}`, { where, remedy });
  };
  if (cut.kind === 'plane') {
    if (!(length3(cut.normal) > 0))
      refuse('normal', 'its normal has no length.', 'Give a direction other than 0, 0, 0.');
    if (Math.abs(unit3(cut.normal)[2]) < Math.sin(LEAST_ANGLE_DEG * DEG))
      refuse('along-span', 'the plane lies along the span.', `Turn it ${LEAST_ANGLE_DEG}° or more off Z.`);
    return planeCut(cut.id, cut.point, cut.normal, recordOf(cut));
  }
  if (!engine)
    return refuse('no-engine', `a ${cut.kind} needs the engine axis.`, 'Add "engine" with a point and a direction.');
  if (!(length3(engine.direction) > 0))
    refuse('no-engine', 'the direction of the engine axis has no length.', 'Give a direction other than 0, 0, 0.');
  if (!(cut.radius > 0)) refuse('radius', `wanted a radius above 0, found ${cut.radius}.`, 'Give the radius in mm.');
  const angle = cut.kind === 'cone' ? cut.halfAngleDeg : 0;
  const steepest = 90 - LEAST_ANGLE_DEG;
  if (Math.abs(angle) > steepest)
    refuse('angle', `wanted a half angle up to ${steepest}°, found ${angle}°.`, 'Measure it from the engine axis.');
  const cone = { radius: cut.radius, at: cut.kind === 'cone' ? cut.at : 0, halfAngle: angle * DEG };
  const made =
    revolvedCut(cut.id, engine, cone, recordOf(cut)) ??
    refuse(
      'radius',
      `the ${cut.kind} does not meet the stacking axis Z.`,
      'Check the radius, and the point and direction of the engine axis.',
    );
  const gradient = new Float64Array(3);
  made.level(Float64Array.of(0, 0, made.height), gradient);
  if (gradient[2] < Math.sin(LEAST_ANGLE_DEG * DEG))
    refuse('along-span', `the ${cut.kind} lies along the span.`, 'Check the engine axis and the half angle.');
  return made;
}

function recordOf(cut: PlanCut): CutRecord {
  const place = (p: Readonly<Vec3>): string => `(${p.map(number).join(', ')})`;
  if (cut.kind === 'plane') {
    const { kind, point, normal } = cut;
    return { kind, point, normal, text: `Plane through ${place(point)} mm, normal ${place(normal)}` };
  }
  const { kind, radius } = cut;
  if (kind === 'cylinder')
    return { kind, radius, text: `Cylinder of radius ${number(radius)} mm about the engine axis` };
  const { at, halfAngleDeg } = cut;
  const text = `Cone of radius ${number(radius)} mm at ${number(at)} mm along the engine axis, half angle ${number(halfAngleDeg)}°`;
  return { kind, radius, at, halfAngleDeg, text };
}

function number(value: number): string {
  return String(Number(value.toFixed(6))).replace('-', '−');
}
