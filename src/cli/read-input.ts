import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { warning } from '../error.ts';
import { readPlan } from '../judge/read-plan.ts';
import { readShape } from '../load/read-shape.ts';
import type { RunContext } from '../model/context.ts';
import type { Plan } from '../model/plan.ts';
import type { LengthUnit, LoadedShape } from '../model/shape.ts';
import { fileSource, readBytes } from './file-source.ts';

/** A plan with what the results name it by. */
export interface PlanFile {
  name: string;
  sha256: string;
  plan: Plan;
}

/**
 * Reads a shape file. Where neither the file nor the caller states a unit, millimetres are taken and the shape carries a
 * warning that says so.
 */
export async function readShapeFile(
  path: string,
  unit: LengthUnit | undefined,
  context: RunContext,
): Promise<LoadedShape> {
  const shape = await readShape(await fileSource(path), unit === undefined ? {} : { unit }, context);
  if (!shape.unitStated && unit === undefined) {
    shape.warnings.push(
      warning(
        'load/unit-assumed',
        'The file states no unit; millimetres are taken.',
        shape.name,
        'State the unit with --unit mm or --unit inch.',
      ),
    );
  }
  return shape;
}

/** Reads and checks a plan file. @throws `plan/…`, `load/unreadable` */
export async function readPlanFile(path: string): Promise<PlanFile> {
  const source = await fileSource(path);
  const bytes = await readBytes(source);
  const plan = readPlan(new TextDecoder().decode(bytes), source.name);
  return { name: source.name, sha256: bytesToHex(sha256(bytes)), plan };
}
