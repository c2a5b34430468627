import { outlineFoot } from '../fit/outline-foot.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import type { Cut } from './cut-thickness.ts';
import { hasCorner, noArcReason } from './edge-radius.ts';
import { termsUncertainty } from './outline-terms.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';
import { isValue, measuredZone, suctionSign } from './zone-of-edge.ts';

/** Axis about which a zone is most alike its mirror image. */
interface SymmetryAxis {
  /** Turn (rad) of the axis from the outward line of centres. */
  turn: number;
  /** Standard uncertainty of the turn (rad), null without noise. */
  u: number | null;
  /** Root mean square distance between the zone and its image (mm). */
  rms: number;
}

const PLACES = 120;
const ROUNDS = 25;
/** Least ratio of the two stiffnesses of shift and turn; a circle has no axis. */
const LEAST_RATIO = 1e-4;
/** An axis less sure than this (degrees) is not determined. */
const MOST_DEG = 10;
const DEG = 180 / Math.PI;
const place = contourPoint();

/**
 * Returns the angle (degrees) between the direction of symmetry of an edge zone and the line of centres (NOSE-TILT):
 * positive with the nose turned to the suction side. The axis of symmetry is the one with the least squared distances
 * between the zone and its mirror image.
 * @param setback of the zone from the nose (mm)
 */
export function noseTilt(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const parameters = { setback };
  const none = (why: string) => unmeasured('not-applicable', why, 'deg', 'NOSE-TILT', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none(reason);
  const cut = measuredZone(context, edge, setback, 'deg', 'NOSE-TILT', parameters);
  if (isValue(cut)) return cut;
  const axis = symmetryAxis(context, edge, cut, setback);
  if (!axis) return none('The edge zone is round: it has no direction of symmetry.');
  const u = axis.u === null || edge.uDirection === null ? null : Math.hypot(axis.u, edge.uDirection) * DEG;
  if (u !== null && u > MOST_DEG) return none('The edge points do not determine a direction of symmetry.');
  return measured(suctionSign(context, edge) * axis.turn * DEG, u, 'deg', 'NOSE-TILT', {
    parameters,
    evidence: {
      axisDeg: (Math.atan2(edge.outY, edge.outX) + axis.turn) * DEG,
      mismatch: axis.rms,
      fromX: edge.pointX,
      fromY: edge.pointY,
    },
  });
}

/** Gauss-Newton for shift and turn of the axis, from the line of centres; null on a circle. */
function symmetryAxis(context: SectionContext, edge: EdgeContext, cut: Cut, setback: number): SymmetryAxis | null {
  const { noise, section } = context;
  const { outline } = section;
  const baseX = edge.pointX - 0.5 * setback * edge.outX;
  const baseY = edge.pointY - 0.5 * setback * edge.outY;
  const step = (cut.after - cut.before) / PLACES;
  let shift = 0;
  let turn = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const angle = Math.atan2(edge.outY, edge.outX) + turn;
    const [ax, ay] = [Math.cos(angle), Math.sin(angle)];
    const [px, py] = [baseX - shift * edge.outY, baseY + shift * edge.outX];
    let [ss, st, tt, rs, rt, squares, weights] = [0, 0, 0, 0, 0, 0, 0];
    const pairs: { t: number; image: number; byShift: number; byTurn: number }[] = [];
    for (let i = 0; i < PLACES; i++) {
      const t = cut.before + (i + 0.5) * step;
      contourAt(outline, t, place);
      const w = step * place.speed;
      const along = (place.x - px) * ax + (place.y - py) * ay;
      const across = (place.y - py) * ax - (place.x - px) * ay;
      const qx = px + along * ax + across * ay;
      const qy = py + along * ay - across * ax;
      const image = outlineFoot(outline, qx, qy).t;
      contourAt(outline, image, place);
      const off = (qx - place.x) * place.ty - (qy - place.y) * place.tx;
      // The image moves by twice the shift, and turns by twice the turn about the base.
      const byShift = 2 * (place.ty * -ay - place.tx * ax) * (ax * edge.outX + ay * edge.outY);
      const byTurn = 2 * (place.ty * -(qy - py) - place.tx * (qx - px));
      ss += w * byShift * byShift;
      st += w * byShift * byTurn;
      tt += w * byTurn * byTurn;
      rs += w * byShift * off;
      rt += w * byTurn * off;
      squares += w * off * off;
      pairs.push({ t, image, byShift: w * byShift, byTurn: w * byTurn });
      weights += w;
    }
    const det = ss * tt - st * st;
    if (!(det > LEAST_RATIO * ss * tt)) return null;
    const moveShift = (-rs * tt + rt * st) / det;
    const moveTurn = (-rt * ss + rs * st) / det;
    shift += moveShift;
    turn += moveTurn;
    if (!(Math.abs(turn) < 1)) return null;
    if (Math.abs(moveShift) < 1e-10 * setback && Math.abs(moveTurn) < 1e-10) {
      const terms = pairs.flatMap(({ t, image, byShift, byTurn }) => {
        const gain = (st * byShift - ss * byTurn) / det;
        return [
          { t, gain },
          { t: image, gain: -gain },
        ];
      });
      return { turn, u: termsUncertainty(noise, outline, terms), rms: Math.sqrt(squares / weights) };
    }
  }
  return null;
}
