import type { KeptBlank } from './kept-blank.ts';
import type { RunContext } from './model/context.ts';
import type { Pose } from './model/pose.ts';
import type { Relation } from './model/relation.ts';
import { leaveOutEndFaces, measuredEnds, roomAlongSpan } from './relate/end-faces.ts';
import { relatePoints } from './relate/relate-points.ts';

/** A blank related to the finished surface. */
export interface RelatedBlank {
  relation: Relation;
  /** How far it may move down and up along the span before an end of the finished blade sticks out of it (mm). */
  room: { down: number; up: number };
}

/** Returns a blank related to the finished surface in a placement; its end faces are no flanks and are left out. */
export async function relateBlank(
  { prepared, points, gate, finder }: Pick<KeptBlank, 'prepared' | 'points' | 'gate' | 'finder'>,
  pose: Pose,
  context: RunContext,
): Promise<RelatedBlank> {
  const { target } = prepared;
  const relation = await relatePoints(target, points, pose, { gate, finder }, context);
  const ends = measuredEnds(target.surface, relation, points, pose);
  leaveOutEndFaces(relation, ends, target.surface);
  return { relation, room: roomAlongSpan(ends, target.surface) };
}
