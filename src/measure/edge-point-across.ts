import type { EdgeContext } from './section-context.ts';

/** Standard uncertainty (mm) of EP-CAM across the line of centres: its last centre and its direction; null without noise. */
export function edgePointAcross(edge: EdgeContext): number | null {
  if (edge.end.uAcross === null || edge.uDirection === null) return null;
  const reach = Math.hypot(edge.pointX - edge.end.x, edge.pointY - edge.end.y);
  return Math.hypot(edge.end.uAcross, reach * edge.uDirection);
}
