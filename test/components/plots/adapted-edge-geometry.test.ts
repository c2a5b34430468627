import { describe, expect, it } from 'vitest';
import {
  adaptedEdgeNumbers,
  adaptedEdges,
  BAR_ROOM,
  crossings,
  edgeViews,
  sectionLines,
} from '../../../components/plots/adapted-edge-geometry.ts';
import type { Polyline } from '../../../src/model/results.ts';

/** Half thickness and straight length of a plate with circular ends (mm), and its even stock. */
const R = 0.5;
const L = 20;
const STOCK = 0.2;
const PERIMETER = 2 * L + 2 * Math.PI * R;
/** Arcs and flanks take this many points; an arc of 1600 steps sags by R·(π/1600)²/8 < 1e-6 mm. */
const STEPS = 1600;

/**
 * Plate of half thickness `r`, its straight part from x = 0 to L, counter-clockwise from the leading edge at x = −r, turned
 * by an angle. Left of the chord lies the suction side.
 */
function plate(r: number, turn: number, centre = { x: 0, y: 0 }): Polyline {
  const flat: [number, number][] = [];
  for (let k = 0; k < STEPS; k++) {
    const a = Math.PI + (k * Math.PI) / 2 / STEPS;
    flat.push([r * Math.cos(a), r * Math.sin(a)]);
  }
  for (let k = 0; k < STEPS; k++) flat.push([(k * L) / STEPS, -r]);
  for (let k = 0; k < 2 * STEPS; k++) {
    const a = -Math.PI / 2 + (k * Math.PI) / 2 / STEPS;
    flat.push([L + r * Math.cos(a), r * Math.sin(a)]);
  }
  for (let k = 0; k < STEPS; k++) flat.push([L - (k * L) / STEPS, r]);
  for (let k = 0; k < STEPS; k++) {
    const a = Math.PI / 2 + (k * Math.PI) / 2 / STEPS;
    flat.push([r * Math.cos(a), r * Math.sin(a)]);
  }
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  let length = 0;
  const along = flat.map(([x, y], i) => {
    if (i > 0) length += Math.hypot(x - flat[i - 1][0], y - flat[i - 1][1]);
    return length <= PERIMETER / 2 ? length : length - PERIMETER;
  });
  return {
    x: flat.map(([x, y]) => centre.x + c * x - s * y),
    y: flat.map(([x, y]) => centre.y + s * x + c * y),
    along,
  };
}

const flatPoints = ({ x, y }: Polyline): Float64Array => Float64Array.from(x.flatMap((at, i) => [at, y[i]]));
/** The same stock at places this close that the arcs between them sag by less than 1e-5 mm. */
const PLACES = Array.from({ length: 8000 }, (_, i) => PERIMETER * ((i + 0.5) / 8000 - 0.5));
const evenStock = (value: number | null) => ({ along: PLACES, deviation: PLACES.map(() => value) });
const coordinates = (path: string): number[][] =>
  [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);
const SETBACKS = { leading: { suction: 1, pressure: 0.3 }, trailing: { suction: 0.25, pressure: 0.8 } };

/** Half thickness of a plate with round ends at a distance from its tip. */
const half = (r: number, at: number): number => (at >= r ? r : Math.sqrt(r * r - (r - at) ** 2));

/** Leading nose first; the adapted outline is the nominal thinned by 0.1 mm about the same middle. */
const THIN = 0.1;
const made = (turn = 0.7, stock: number | null = STOCK) => {
  const nominal = plate(R, turn, { x: 3, y: -2 });
  return sectionLines(nominal, nominal, evenStock(stock), flatPoints(plate(R - THIN, turn, { x: 3, y: -2 })));
};

describe('the lines of an adapted section', () => {
  it.each([0, 0.7, 2.5, -1.9])('lie on the chord of a plate turned by %d rad, suction side left', (turn) => {
    const section = made(turn);
    expect(section.dirX).toBeCloseTo(Math.cos(turn), 6);
    expect(section.dirY).toBeCloseTo(Math.sin(turn), 6);
    expect(section.suctionLeft).toBe(true);
  });

  it('tell the suction side on the right by the sign along the outline', () => {
    const nominal = plate(R, 0);
    const other = { ...nominal, along: nominal.along.map((at) => -at) };
    expect(sectionLines(other, other, evenStock(0), flatPoints(nominal)).suctionLeft).toBe(false);
  });

  it.each(['leading', 'trailing'] as const)(
    'cross every distance from the %s nose where circle and flank lie',
    (end) => {
      const views = edgeViews(made(), end);
      const radius = { nominal: R, blank: R + STOCK, adapted: R - THIN };
      for (const name of ['nominal', 'blank', 'adapted'] as const)
        for (const at of [0.02, 0.2, 0.6, 2]) {
          const [low, high] = crossings(views[name]!, at);
          const beyond = radius[name] - radius.adapted;
          expect((high! - low!) / 2, `${name} ${at}`).toBeCloseTo(half(radius[name], at + beyond), 4);
        }
    },
  );

  it('follow stock that changes faster than the outline has points', () => {
    const nominal = plate(R, 0);
    const flank = nominal.along.map((at) => Math.abs(at) < 6 || Math.abs(at) > 8);
    const kept = (list: number[]) => list.filter((_, i) => flank[i]);
    const sparse = { x: kept(nominal.x), y: kept(nominal.y), along: kept(nominal.along) };
    const wave = { along: PLACES, deviation: PLACES.map((at) => STOCK + 0.1 * Math.sin(8 * at)) };
    const { blank } = edgeViews(sectionLines(sparse, sparse, wave, flatPoints(nominal)), 'leading');
    const [, high] = crossings(blank!, 7);
    const along = 7 - R + (Math.PI * R) / 2;
    expect(high).toBeCloseTo(R + STOCK + 0.1 * Math.sin(8 * -along), 4);
  });

  it('leave the blank open where it was not measured', () => {
    const views = edgeViews(made(0, null), 'leading');
    expect(crossings(views.blank!, 0.5)).toEqual([null, null]);
    const picture = adaptedEdges(made(0, null), SETBACKS, { width: 300, height: 240 });
    expect(picture.edges[0].paths.blank).toBe('');
    expect(picture.edges[0].paths.nominal).not.toBe('');
  });
});

describe('the picture of both edges', () => {
  const box = { width: 300, height: 240 };
  const picture = adaptedEdges(made(), SETBACKS, box);
  /** Distance of neighbouring points on a flank (px). */
  const step = 1.01 * (L / STEPS) * picture.pxPerMm;

  it('has one scale, with everything as deep as the deepest junction inside its box', () => {
    const deepest = 1.35 * SETBACKS.leading.suction * picture.pxPerMm;
    for (const { paths, nose } of picture.edges)
      for (const path of Object.values(paths))
        for (const [x, y] of coordinates(path)) {
          expect(x).toBeGreaterThan(-step);
          expect(x).toBeLessThan(box.width + step);
          if (Math.abs(x - nose) > deepest) continue;
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(box.height - BAR_ROOM);
        }
    expect(picture.bar.x2 - picture.bar.x1).toBeCloseTo(picture.bar.length * picture.pxPerMm, 9);
  });

  it('runs the flanks on to the border away from the nose', () => {
    const [leading, trailing] = picture.edges.map(({ paths }) => coordinates(paths.adapted).map(([x]) => x));
    expect(Math.max(...leading)).toBeGreaterThanOrEqual(box.width);
    expect(Math.min(...trailing)).toBeLessThanOrEqual(0);
  });

  it('is true to scale: all of the nose arc is one radius from its centre', () => {
    for (const { paths, nose, end } of picture.edges) {
      const inward = end === 'leading' ? 1 : -1;
      const radius = (R - THIN) * picture.pxPerMm;
      const centre = nose + inward * radius;
      const arc = coordinates(paths.adapted).filter(([x]) => inward * (x - centre) < 0);
      const ys = arc.map(([, y]) => y);
      const middle = (Math.min(...ys) + Math.max(...ys)) / 2;
      expect(arc.length).toBeGreaterThan(STEPS);
      for (const [x, y] of arc) expect(Math.abs(Math.hypot(x - centre, y - middle) - radius)).toBeLessThan(0.03);
    }
  });

  it('points the leading edge left and the trailing edge right', () => {
    const [leading, trailing] = picture.edges.map(({ paths }) => coordinates(paths.adapted).map(([x]) => x));
    expect(Math.min(...leading)).toBeCloseTo(picture.edges[0].nose, 1);
    expect(Math.max(...trailing)).toBeCloseTo(picture.edges[1].nose, 1);
  });

  it('marks the junctions at their set-backs, on flank and on arc', () => {
    for (const { junctions, end, nose } of picture.edges) {
      const inward = end === 'leading' ? 1 : -1;
      const own = SETBACKS[end];
      expect(junctions.map(({ side }) => side)).toEqual(['suction', 'pressure']);
      const [up, down] = junctions;
      expect(up.x).toBeCloseTo(nose + inward * own.suction * picture.pxPerMm, 9);
      expect(down.x).toBeCloseTo(nose + inward * own.pressure * picture.pxPerMm, 9);
      const apart = half(R - THIN, own.suction) + half(R - THIN, own.pressure);
      expect((down.y - up.y) / picture.pxPerMm).toBeCloseTo(apart, 4);
    }
  });

  it('draws the adapted line alone where the section has no nominal of its own, and shows no junctions without set-backs', () => {
    const guide = plate(R, 0);
    const alone = sectionLines(guide, null, evenStock(0), flatPoints(plate(R, 0)));
    const { edges } = adaptedEdges(alone, { leading: null, trailing: null }, box);
    expect(edges.map(({ paths }) => [paths.nominal, paths.blank])).toEqual([
      ['', ''],
      ['', ''],
    ]);
    expect(edges.every(({ junctions, paths }) => junctions.length === 0 && paths.adapted !== '')).toBe(true);
    expect(adaptedEdgeNumbers(alone, { leading: null, trailing: null }, 'leading').heads).toHaveLength(3);
  });
});

describe('the table of an edge', () => {
  it('lists each line on both sides of the nose by its distance from the nose line', () => {
    const { heads, rows } = adaptedEdgeNumbers(made(), SETBACKS, 'trailing');
    expect(heads).toHaveLength(7);
    expect(heads[1]).toBe('nominal, suction side, mm');
    expect(rows.length).toBeGreaterThan(8);
    for (const row of rows) {
      const at = row[0]!;
      [R, R + STOCK, R - THIN].forEach((radius, k) => {
        const expected = half(radius, at + radius - (R - THIN));
        expect(row[1 + 2 * k]).toBeCloseTo(expected, 3);
        expect(row[2 + 2 * k]).toBeCloseTo(-expected, 3);
      });
    }
  });
});
