import { describe, expect, it } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { areaProperties } from '../../src/measure/area-properties.ts';
import { measureSection } from '../../src/measure/measure-section.ts';
import { sectionTrends } from '../../src/measure/section-trends.ts';
import { bowDepartures, spanTrends } from '../../src/measure/span-trends.ts';
import { fitSection } from '../../src/measure/twist-fit.ts';
import type { SectionResult } from '../../src/model/results.ts';
import { measured, unmeasured, type Value } from '../../src/model/value.ts';
import { CAMBERED, diskPoints, grownLeading, moved, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 400, 200);
const nominal = sectionOf(points);
const area = areaProperties(nominal.outline);
const pivot: [number, number] = [area.centroidX, area.centroidY];
const TURN = (1.25 * Math.PI) / 180;

describe('best fit of a section', () => {
  it('finds the turn and the move of the pivot, from points and from an outline', () => {
    const turned = moved(points, TURN, pivot, 0.12, -0.045);
    for (const shape of [turned, sectionOf(turned).outline]) {
      const fit = fitSection(nominal.outline, nominal.edges, shape, pivot);
      expect(fit?.converged).toBe(true);
      expect(Math.abs((fit?.twist ?? 0) - TURN)).toBeLessThan(1e-8);
      expect(Math.abs((fit?.dx ?? 0) - 0.12)).toBeLessThan(2e-7);
      expect(Math.abs((fit?.dy ?? 0) + 0.045)).toBeLessThan(2e-7);
    }
  });

  it('agrees with the turn of every chord that defines a line', () => {
    const before = measureSection(nominal);
    const after = measureSection(sectionOf(moved(points, TURN, pivot, 0.12, -0.045)));
    for (const key of ['staggerFarDeg', 'staggerBitangentDeg', 'staggerCamberDeg'] as const)
      expect((after[key].value as number) - (before[key].value as number)).toBeCloseTo(1.25, 6);
  });

  it('is not fooled by a grown leading edge, unlike the bitangent', () => {
    const turned = moved(grownLeading(points), TURN, pivot, 0.12, -0.045);
    const fit = fitSection(nominal.outline, nominal.edges, turned, pivot, { excludeEdges: true });
    expect(Math.abs(((fit?.twist ?? 0) * 180) / Math.PI - 1.25)).toBeLessThan(0.01);
    const chord = measureSection(sectionOf(turned)).staggerBitangentDeg.value as number;
    expect(chord - (measureSection(nominal).staggerBitangentDeg.value as number)).toBeCloseTo(1.333763, 3);
  });

  it('moves with the pivot it is stated for', () => {
    const turned = moved(points, TURN, pivot, 0.12, -0.045);
    const other: [number, number] = [pivot[0] + 15, pivot[1]];
    const a = fitSection(nominal.outline, null, turned, pivot);
    const b = fitSection(nominal.outline, null, turned, other);
    expect((b?.dy ?? 0) - (a?.dy ?? 0)).toBeCloseTo(15 * Math.sin(TURN), 6);
  });

  it('states its uncertainty', () => {
    const normal = normalFrom(seededRandom(3));
    let squares = 0;
    let stated = 0;
    for (let run = 0; run < 12; run++) {
      const noisy = Float64Array.from(points, (v) => v + 0.004 * normal());
      const fit = fitSection(nominal.outline, nominal.edges, noisy, pivot);
      squares += (fit?.twist ?? 1) ** 2;
      stated += (fit?.uTwist ?? 0) ** 2;
    }
    expect(Math.sqrt(squares / stated)).toBeGreaterThan(0.5);
    expect(Math.sqrt(squares / stated)).toBeLessThan(1.6);
  });
});

describe('span trends', () => {
  const stations = Array.from({ length: 11 }, (_, i) => {
    const u = i / 10;
    return { height: 100 * u, dx: 0, dy: 0.4 * 4 * u * (1 - u) + 0.2 * u, twistDeg: 0.3 * u + 0.05 };
  });

  it('parts a parabola and a slope into bow and lean', () => {
    const trends = spanTrends(stations);
    expect(trends.bow.value).toBeCloseTo(0.4, 12);
    expect(trends.leanDeg.value).toBeCloseTo((Math.atan(0.002) * 180) / Math.PI, 12);
    expect(trends.sweepDeg.value).toBeCloseTo(0, 12);
    expect(trends.untwistDeg.value).toBeCloseTo(0.3, 12);
    expect(trends.untwistDeg.evidence?.meanDeg).toBeCloseTo(0.2, 12);
  });

  it('measures bow from the least-squares line when told so', () => {
    expect(spanTrends(stations, 'BOW-LSQ').bow.value).toBeCloseTo(0.24, 12);
    const departures = bowDepartures(stations, 'BOW-LSQ') ?? [];
    expect(departures[0][1]).toBeCloseTo(-0.24, 12);
    expect(departures[5][1]).toBeCloseTo(0.16, 12);
  });

  it('states the bow from either line, and sweep and dihedral in the frame of the chord', () => {
    const trends = spanTrends(stations.map((s) => ({ ...s, along: 0.001 * s.height, across: -0.002 * s.height })));
    expect(trends.bowEnd?.value).toBeCloseTo(0.4, 12);
    expect(trends.bowLsq?.value).toBeCloseTo(0.24, 12);
    expect(trends.sweepChordDeg?.value).toBeCloseTo((Math.atan(0.001) * 180) / Math.PI, 12);
    expect(trends.dihedralChordDeg?.value).toBeCloseTo((Math.atan(-0.002) * 180) / Math.PI, 12);
    expect(spanTrends(stations).sweepChordDeg?.status).toBe('not-measured');
  });

  it('knows how far stations pull the least-squares line that bow is measured from', () => {
    const known = stations.map((s) => ({ ...s, uDx: 0.001, uDy: 0.001 }));
    // The largest departure is at an end: its own leverage is 1/n + (n−1)·3/(n (n+1)) with n = 11 equal steps.
    const leverage = 1 / 11 + (3 * 10) / (11 * 12);
    expect(spanTrends(known).bowLsq?.u).toBeCloseTo(0.001 * Math.sqrt(1 - leverage), 9);
  });

  it('carries uncertainties and asks for enough sections', () => {
    const known = stations.map((s) => ({ ...s, uDx: 0.001, uDy: 0.001, uTwistDeg: 0.002 }));
    expect(spanTrends(known).bow.u).toBeCloseTo(0.001 * Math.sqrt(1.5), 9);
    expect(spanTrends(stations).bow.u).toBeNull();
    expect(spanTrends(stations.slice(0, 2)).bow.status).toBe('not-measured');
    expect(spanTrends(stations.slice(0, 1)).leanDeg.status).toBe('not-measured');
    const missing = stations.map((s, i) => (i === 5 ? { ...s, dy: null } : s));
    expect(spanTrends(missing).bow.value).toBeCloseTo(0.384, 12);
  });
});

describe('span trends of measured sections', () => {
  const value = (amount: number | null): Value =>
    amount === null
      ? unmeasured('not-measured', 'No points at an edge.', 'mm', 'DISPLACEMENT-X')
      : measured(amount, 0.001, 'mm', 'DISPLACEMENT-X');
  /** Bow of 0.08 by the mid camber line, 0.09 by the rigid fit; the camber line is unknown at some stations. */
  const sections = (unknown: number[]): SectionResult[] =>
    Array.from({ length: 11 }, (_, i) => {
      const bow = (0.4 * i * (10 - i)) / 10;
      const camber = unknown.includes(i) ? null : 0.08 * bow;
      return {
        id: `S${i}`,
        height: 12 * i,
        coverage: 1,
        displacementX: value(0),
        displacementY: value(0.09 * bow),
        displacementCamberX: value(camber === null ? null : 0),
        displacementCamberY: value(camber),
      };
    });

  it('stand on the mid camber line where both ends and most sections have one', () => {
    for (const unknown of [[], [3, 4]]) {
      const trends = sectionTrends(sections(unknown), 'BOW-END');
      expect(trends.basis).toBe('mid camber line');
      expect(trends.bow.value).toBeCloseTo(0.08, 12);
    }
  });

  it('stand on the rigid fit where an end or too many are unknown', () => {
    for (const unknown of [[10], [1, 2, 3, 4, 5]]) {
      const trends = sectionTrends(sections(unknown), 'BOW-END');
      expect(trends.basis).toBe('rigid fit');
      expect(trends.bow.value).toBeCloseTo(0.09, 12);
    }
  });
});
