import { expect, test } from 'vitest';
import type { ScanDifference } from '../../src/model/results.ts';
import type { SectionPoints } from '../../src/model/shape.ts';
import { compareScans, scanWarnings } from '../../src/probe/compare-scans.ts';
import { sectionPath } from '../../src/probe/section-path.ts';
import { contour, probedSection } from './round-edged.ts';

const PART = { edge: 0.4, lean: 0 };
const PLACES = contour(PART);
const SIGMA = 0.002;

/**
 * Two passes, the second backwards: it lies `apart` farther out all round, and its leading edge, at −x, is shifted by
 * `lag` along the outline (there downwards).
 */
function twoPasses(seed: number, apart: number, lag: number, tip = 1): SectionPoints {
  const first = probedSection(PART, 10, tip, { sigma: SIGMA, seed }, PLACES);
  const second = probedSection(PART, 10, tip + apart, { sigma: SIGMA, seed: seed + 1000 }, PLACES);
  const { points } = second;
  const back = new Float64Array(points.length);
  const count = points.length / 2;
  for (const [i, [, , mx]] of PLACES.entries()) {
    // The shift fades out between 77 and 84 degrees of normal direction; the flanks lie at 85.
    const angle = Math.acos(-mx);
    const share = Math.min(1, Math.max(0, (84 - (angle * 180) / Math.PI) / 7));
    back[2 * (count - 1 - i)] = points[2 * i];
    back[2 * (count - 1 - i) + 1] = points[2 * i + 1] - lag * share;
  }
  return { ...first, again: [back] };
}

function scan(scans: readonly ScanDifference[], zone: ScanDifference['zone']): ScanDifference {
  const found = scans.find((each) => each.zone === zone);
  if (!found) throw new Error(zone);
  return found;
}

test('two passes alike differ by nothing beyond their uncertainty', () => {
  const ratios: number[] = [];
  for (let seed = 1; seed <= 8; seed++) {
    const scans = compareScans(sectionPath(twoPasses(seed, 0, 0), {}));
    expect(scans.map(({ zone, pass }) => [zone, pass])).toEqual([
      ['leading-edge', 2],
      ['trailing-edge', 2],
      [scans[2].zone, 2],
      [scans[3].zone, 2],
    ]);
    for (const { difference, lag } of scans) {
      ratios.push((difference.value ?? Number.NaN) / (difference.u ?? Number.NaN));
      if (lag.status === 'ok') ratios.push((lag.value ?? Number.NaN) / (lag.u ?? Number.NaN));
    }
  }
  const rms = Math.sqrt(ratios.reduce((sum, ratio) => sum + ratio * ratio, 0) / ratios.length);
  expect(rms).toBeGreaterThan(0.7);
  expect(rms).toBeLessThan(1.4);
});

test('a planted distance and lag are found with their signs', () => {
  const scans = compareScans(sectionPath(twoPasses(5, 0.006, 0.02), {}));
  const leading = scan(scans, 'leading-edge');
  // Counter-clockwise seen from the tip, the outline runs downwards at −x.
  expect(Math.abs((leading.lag.value ?? 0) - 0.02)).toBeLessThan(4 * (leading.lag.u ?? 0) + 5e-4);
  // The planted shift fades out on the edge itself: what is left of it there counts as doubt, a tenth of the lag at most.
  expect(leading.lag.u).toBeLessThan(0.002);
  for (const { difference } of scans) {
    expect(Math.abs((difference.value ?? 0) - 0.006)).toBeLessThan(4 * (difference.u ?? 0) + 5e-4);
  }
  const trailing = scan(scans, 'trailing-edge');
  expect(Math.abs(trailing.lag.value ?? 1)).toBeLessThan(4 * (trailing.lag.u ?? 0));
  expect(scan(scans, 'suction').lag.status).toBe('not-applicable');
});

test('warnings name the zone, the amount and the passes; none within the uncertainty', () => {
  const found = scanWarnings(compareScans(sectionPath(twoPasses(5, 0, 0.02), {})), 'scan.csv');
  expect(found.map(({ code }) => code)).toContain('probe/scans-lag');
  const lag = found.find(({ code }) => code === 'probe/scans-lag');
  expect(lag?.message).toMatch(
    /^At the leading edge, pass 2 is shifted by \+0\.0(19|20)\d+ ± 0\.00\d\d mm along the edge \(1 sigma\); 1 of 2 zones differ/,
  );
  expect(lag?.where).toBe('scan.csv, section z10');
  expect(scanWarnings(compareScans(sectionPath(twoPasses(5, 0, 0), {})), 'scan.csv')).toEqual([]);
});

test('a pass that leaves an edge out says nothing there', () => {
  const section = twoPasses(5, 0, 0);
  const [back] = section.again ?? [];
  const kept: number[] = [];
  for (let i = 0; i < back.length; i += 2) if (back[i] > -19.5) kept.push(back[i], back[i + 1]);
  const scans = compareScans(sectionPath({ ...section, again: [Float64Array.from(kept)] }, {}));
  expect(scan(scans, 'leading-edge').difference.status).toBe('not-measured');
  expect(scan(scans, 'trailing-edge').difference.status).toBe('ok');
});
