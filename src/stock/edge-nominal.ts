import {
  distanceInside,
  type EdgeCurve,
  type EdgeEvaluate,
  type EdgeJunction,
  edgeCurve,
  type NoseLine,
} from './edge-curve.ts';

/** The nominal edge, from the suction side over the nose to the pressure side. */
export interface NominalEdge {
  /** Numbers as of `EdgeEvaluate`, by the nominal's own parameter. */
  evaluate: EdgeEvaluate;
  from: number;
  to: number;
  /** Parameter at which the tangent is parallel to the nominal nose line; that line goes through the nose. */
  noseAt: number;
  line: NoseLine;
  /** Direction of the camber line at the nose, into the material (need not be unit). */
  camber: { x: number; y: number };
}

/** The nose an edge shall have on the blank (mm). */
export interface BlankNose {
  line: NoseLine;
  /** Where the nose shall lie on the nose line, and the direction of the measured camber line there. */
  nose: { x: number; y: number };
  camber: { x: number; y: number };
}

/** The nominal edge carried onto the flanks of the blank. */
export interface MappedEdge {
  curve: EdgeCurve;
  /** Thickness of the blank over the nominal one at the junctions. */
  scale: number;
  /** What had to be faded out at the suction and pressure junction: offset (mm) and slope, across over depth. */
  offset: [number, number];
  slope: [number, number];
}

export type MappedRefusal = 'nominal-too-short' | 'flanks-cross' | 'flank-along-line';

/** Shape of a map of depth p and place across q: scale (q − lean0 p) + lean1 p + α p² + β p³ on each side. */
interface Side {
  square: number;
  cube: number;
}

/**
 * Returns the nominal edge carried to a blank, or why not. Depth under the nose line is kept, so chord and nose line hold;
 * across, the camber line goes over into the measured one and thickness is scaled to that between the junctions. What
 * is then missing in place and direction at a junction is made up by α p² + β p³, which leaves nose and nose radius alone
 * because depth itself grows with the square of the distance there.
 */
export function mappedEdge(
  nominal: NominalEdge,
  blank: BlankNose,
  junctions: [EdgeJunction, EdgeJunction],
  count = 201,
): MappedEdge | MappedRefusal {
  const [a, b] = junctions;
  const start = placeAtDepth(nominal, nominal.from, distanceInside(blank.line, a.x, a.y));
  const end = placeAtDepth(nominal, nominal.to, distanceInside(blank.line, b.x, b.y));
  if (start === null || end === null) return 'nominal-too-short';
  const lean0 = leanOf(nominal.camber, nominal.line);
  const lean1 = leanOf(blank.camber, blank.line);
  const local = new Float64Array(8);
  const nose = new Float64Array(8);
  nominal.evaluate(nominal.noseAt, nose);
  const inNominal = (t: number) => {
    nominal.evaluate(t, local);
    local[0] -= nose[0];
    local[1] -= nose[1];
    toLine(nominal.line, local);
  };
  const wanted = junctions.map((j) => {
    const numbers = Float64Array.from([j.x - blank.nose.x, j.y - blank.nose.y, j.tangentX, j.tangentY, 0, 0, 0, 0]);
    toLine(blank.line, numbers);
    return numbers;
  });
  const found = [start, end].map((t) => {
    inNominal(t);
    return { depth: local[0], bare: local[1] - lean0 * local[0], slope: local[3] / local[2] - lean0 };
  });
  const [w1, w2] = wanted.map((w) => w[1] - lean1 * w[0]);
  const scale = (w1 - w2) / (found[0].bare - found[1].bare);
  if (!(scale > 0)) return 'flanks-cross';
  if (!(wanted[0][2] < 0 && wanted[1][2] < 0)) return 'flank-along-line';
  const offset = found.map((f, k) => [w1, w2][k] - scale * f.bare) as [number, number];
  const slope = found.map((f, k) => wanted[k][3] / wanted[k][2] - lean1 - scale * f.slope) as [number, number];
  const sides = found.map(({ depth }, k): Side => {
    const [value, rate] = [offset[k] / depth ** 2, slope[k] / depth];
    return { square: 3 * value - rate, cube: (rate - 2 * value) / depth };
  });
  const reach = end - start;
  const evaluate: EdgeEvaluate = (t, out) => {
    const at = start + t * reach;
    inNominal(at);
    carry(local, scale, lean1 - scale * lean0, (at - nominal.noseAt) * reach < 0 ? sides[0] : sides[1]);
    for (let k = 0, size = 1; k < 8; k += 2, size *= reach) {
      const [depth, across] = [local[k], local[k + 1]];
      out[k] = size * (depth * blank.line.inX - across * blank.line.inY) + (k === 0 ? blank.nose.x : 0);
      out[k + 1] = size * (depth * blank.line.inY + across * blank.line.inX) + (k === 0 ? blank.nose.y : 0);
    }
  };
  const parts = { form: 'nominal' as const, ratio: null, junctions, line: blank.line, evaluate };
  return { curve: edgeCurve(parts, (nominal.noseAt - start) / reach, count), scale, offset, slope };
}

/** Turns the pairs of numbers into depth along the normal of a line and place along it. */
function toLine(line: NoseLine, numbers: Float64Array): void {
  for (let k = 0; k < 8; k += 2) {
    const [x, y] = [numbers[k], numbers[k + 1]];
    numbers[k] = x * line.inX + y * line.inY;
    numbers[k + 1] = y * line.inX - x * line.inY;
  }
}

/** Changes the numbers of place across to scale · q + lean · p + α p² + β p³. */
function carry(numbers: Float64Array, scale: number, lean: number, { square, cube }: Side): void {
  const [p, , p1, , p2, , p3] = numbers;
  const first = lean + 2 * square * p + 3 * cube * p * p;
  const second = 2 * square + 6 * cube * p;
  numbers[1] = scale * numbers[1] + p * (lean + p * (square + p * cube));
  numbers[3] = scale * numbers[3] + first * p1;
  numbers[5] = scale * numbers[5] + second * p1 * p1 + first * p2;
  numbers[7] = scale * numbers[7] + 6 * cube * p1 ** 3 + 3 * second * p1 * p2 + first * p3;
}

function leanOf(direction: { x: number; y: number }, line: NoseLine): number {
  const depth = direction.x * line.inX + direction.y * line.inY;
  return (direction.y * line.inX - direction.x * line.inY) / depth;
}

/** Parameter between the nose and one end at which the nominal edge has a depth under its nose line, or null. */
function placeAtDepth(nominal: NominalEdge, end: number, depth: number): number | null {
  const out = new Float64Array(8);
  const nose = new Float64Array(8);
  nominal.evaluate(nominal.noseAt, nose);
  const line = { ...nominal.line, x: nose[0], y: nose[1] };
  const at = (t: number) => {
    nominal.evaluate(t, out);
    return distanceInside(line, out[0], out[1]);
  };
  if (!(depth > 0 && at(end) >= depth)) return null;
  let [near, far] = [nominal.noseAt, end];
  for (let k = 0; k < 64 && near !== far; k++) {
    const middle = 0.5 * (near + far);
    if (at(middle) < depth) near = middle;
    else far = middle;
  }
  return far;
}
