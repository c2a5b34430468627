import {
  curvatureRate,
  distanceInside,
  type EdgeCurve,
  type EdgeJunction,
  signedCurvature,
} from '../../src/stock/edge-curve.ts';

/** What a finished edge is like against its flanks and wishes. Lengths in mm, angles in rad, curvatures in 1/mm. */
export interface EdgeChecks {
  /** Angle between flank and edge at the suction and pressure junction, and its worst standard uncertainty. */
  tangentBreak: [number, number];
  tangentBreakU: number;
  /** Curvature of the edge less that of the flank at the junctions. */
  curvatureBreak: [number, number];
  /** Distance between curve and junctions. */
  gap: [number, number];
  /** Times the change of curvature has the wrong sign or changes it between flank and nose; 0 is monotone. */
  curvatureTurns: [number, number];
  /** Least curvature; below 0 where the edge is hollow. */
  leastCurvature: number;
  /** How far the curve passes the nose line, at least 0. */
  beyondLine: number;
  /** Distance of the nose from the camber line carried on, along the nose line; null without one. */
  noseOffCamber: number | null;
  thickness: { setback: number; value: number | null }[];
}

/** What an edge is checked for besides tangent and curvature (mm). */
export interface EdgeCheckWishes {
  /** A point of the camber line carried on and its direction there. */
  camber?: { x: number; y: number; directionX: number; directionY: number };
  /** Distances from the nose line at which the width is wanted. */
  setbacks?: readonly number[];
}

/** Steps of the curve looked at. */
const STEPS = 800;
/** Changes of curvature below this share of the greatest one say nothing. */
const STILL = 1e-6;

/** Returns the checks of an edge; places are dense parameters, widths and noses are exact. */
export function edgeChecks(curve: EdgeCurve, wishes: EdgeCheckWishes = {}): EdgeChecks {
  const out = new Float64Array(8);
  const [a, b] = curve.junctions;
  const { camber } = wishes;
  const end = (t: number, at: EdgeJunction, way: 1 | -1) => {
    curve.evaluate(t, out);
    const [dx, dy] = [way * out[2], way * out[3]];
    return {
      gap: Math.hypot(out[0] - at.x, out[1] - at.y),
      angle: Math.abs(Math.atan2(at.tangentX * dy - at.tangentY * dx, at.tangentX * dx + at.tangentY * dy)),
      bend: curve.turn * signedCurvature(out) - at.curvature,
    };
  };
  const [first, second] = [end(0, a, 1), end(1, b, -1)];
  let leastCurvature = Number.POSITIVE_INFINITY;
  let beyondLine = 0;
  for (let i = 0; i <= STEPS; i++) {
    curve.evaluate(i / STEPS, out);
    leastCurvature = Math.min(leastCurvature, curve.turn * signedCurvature(out));
    beyondLine = Math.max(beyondLine, -distanceInside(curve.line, out[0], out[1]));
  }
  return {
    tangentBreak: [first.angle, second.angle],
    tangentBreakU: Math.max(a.u.angle, b.u.angle),
    curvatureBreak: [first.bend, second.bend],
    gap: [first.gap, second.gap],
    curvatureTurns: curvatureTurns(curve),
    leastCurvature,
    beyondLine,
    noseOffCamber: camber ? offCamber(curve, camber) : null,
    thickness: (wishes.setbacks ?? []).map((setback) => ({ setback, value: edgeWidth(curve, setback) })),
  };
}

/**
 * Returns, for the suction and pressure part, how often curvature does not rise towards its own peak near the nose: a
 * falling start counts once, and so does every change of sign before the peak. The peak of an edge that is not symmetric
 * lies beside its nose; it is sought where the normal is within 45° of the nose's.
 */
export function curvatureTurns(curve: EdgeCurve): [number, number] {
  const out = new Float64Array(8);
  const rates = new Float64Array(STEPS + 1);
  let peak = -1;
  let most = 0;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i <= STEPS; i++) {
    curve.evaluate(i / STEPS, out);
    rates[i] = curve.turn * curvatureRate(out);
    most = Math.max(most, Math.abs(rates[i]));
    const along = Math.abs(out[3] * curve.line.inX - out[2] * curve.line.inY) / Math.hypot(out[2], out[3]);
    const bend = curve.turn * signedCurvature(out);
    if (along >= Math.SQRT1_2 && bend > highest) {
      highest = bend;
      peak = i;
    }
  }
  const floor = STILL * Math.max(most, highest * highest);
  const turns = (from: number, to: number, wanted: 1 | -1): number => {
    let count = 0;
    let last = wanted as number;
    const step = Math.sign(to - from);
    // The two steps at the peak itself see both of its sides.
    for (let i = from; step * (to - i) > 2; i += step) {
      if (Math.abs(rates[i]) <= floor) continue;
      const sign = Math.sign(rates[i]);
      if (sign !== last) count++;
      last = sign;
    }
    return count;
  };
  return [turns(0, peak, 1), turns(STEPS, peak, -1)];
}

/** Returns the width along the nose line at a distance under it (mm), or null beyond the junctions. */
export function edgeWidth(curve: EdgeCurve, setback: number): number | null {
  const out = new Float64Array(8);
  const across = (from: number): number | null => {
    let [far, near] = [from, curve.nose.t];
    curve.evaluate(far, out);
    if (!(distanceInside(curve.line, out[0], out[1]) >= setback - 1e-9)) return null;
    for (let k = 0; k < 60; k++) {
      const t = 0.5 * (far + near);
      curve.evaluate(t, out);
      if (distanceInside(curve.line, out[0], out[1]) > setback) far = t;
      else near = t;
    }
    return out[1] * curve.line.inX - out[0] * curve.line.inY;
  };
  const [first, second] = [across(0), across(1)];
  return first === null || second === null ? null : Math.abs(first - second);
}

function offCamber(curve: EdgeCurve, camber: NonNullable<EdgeCheckWishes['camber']>): number {
  const { inX, inY } = curve.line;
  const share = distanceInside(curve.line, camber.x, camber.y) / (camber.directionX * inX + camber.directionY * inY);
  const x = camber.x - share * camber.directionX;
  const y = camber.y - share * camber.directionY;
  return Math.abs((curve.nose.x - x) * -inY + (curve.nose.y - y) * inX);
}

/** Returns the distance between the noses of two edges along a chord direction (unit): the chord they make (mm). */
export function chordOfEdges(leading: EdgeCurve, trailing: EdgeCurve, chordX: number, chordY: number): number {
  return (trailing.nose.x - leading.nose.x) * chordX + (trailing.nose.y - leading.nose.y) * chordY;
}
