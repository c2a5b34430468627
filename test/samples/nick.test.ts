import { describe, expect, it } from 'vitest';
import { deform, formAt, nominalBlade } from '../../samples/blade.ts';
import { exactDeviation, nominalSurfacePoint } from '../../samples/deviation.ts';
import { sampleExpected } from '../../samples/expected.ts';
import { makeScan } from '../../samples/scan.ts';
import { SAMPLE_DEFORMATION, SAMPLE_NICK, SAMPLE_SCAN } from '../../samples/scenario.ts';
import { edgeHalfAngle, LEADING } from '../../samples/section-form.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { inspect } from '../../src/pipeline.ts';
import { loaded } from '../support/loaded.ts';

const measured = deform(nominalBlade(), SAMPLE_DEFORMATION);
const { depth, width, length, height } = SAMPLE_NICK;

describe('the planted nick', () => {
  it('lowers points by the hollow of an ellipsoid and leaves all others', () => {
    const scan = makeScan({
      blade: measured,
      points: 60_000,
      seed: 9,
      from: 62,
      to: 64,
      edgeDensity: 20,
      nicks: [SAMPLE_NICK],
    });
    const { form } = formAt(measured, height);
    const arc = form.leading * edgeHalfAngle(form, LEADING);
    let inside = 0;
    exactDeviation(scan.cloud.positions, measured).forEach((low, i) => {
      const [along, up] = [(2 * scan.t[i] * arc) / width, (2 * (scan.height[i] - height)) / length];
      const left = scan.piece[i] === LEADING ? 1 - along * along - up * up : 0;
      if (left > 0) inside++;
      expect(Math.abs(low + depth * Math.sqrt(Math.max(0, left)))).toBeLessThan(1e-9);
    });
    // About 5000 points stand on a square millimetre of the edge, and the nick covers 0.126 mm².
    expect(inside).toBeGreaterThan(300);
  });

  it('is the one defect the tool lists there, within its uncertainty', async () => {
    const [from, to] = [height - 13, height + 13];
    const { pose: _, shadows: __, surroundings: ___, ...scanned } = SAMPLE_SCAN;
    const points = Math.round((SAMPLE_SCAN.points * (to - from)) / (SAMPLE_SCAN.to - SAMPLE_SCAN.from));
    const { cloud } = makeScan({ ...scanned, blade: measured, points, from, to });
    const nominal = loaded(exactSections(evenHeights(21), 200));
    const pose = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
    const { results } = await inspect(
      { nominal, measured: [loaded(cloud)], pose, settings: { heights: [60, 66] } },
      {},
    );
    expect(results.faults).toHaveLength(1);
    const [fault] = results.faults!;
    const place = nominalSurfacePoint(nominalBlade(), SAMPLE_NICK);
    expect(fault).toMatchObject({ kind: 'nick', place: { side: 'leading-edge' } });
    expect(Math.hypot(...fault.place.point.map((value, k) => value - place[k]))).toBeLessThan(0.1);
    expect(Math.abs(fault.depth + depth)).toBeLessThan(3 * fault.u!);
    expect(Math.abs(fault.length - length)).toBeLessThan(0.25);
  }, 60_000);

  it('stands in the table of planted values', () => {
    const { faults } = sampleExpected(SAMPLE_SCAN, 0) as { faults: Record<string, unknown>[] };
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({
      kind: 'nick',
      side: 'leading-edge',
      height,
      along: 0,
      depth: -depth,
      width,
      length,
    });
    const [, , z] = faults[0].point as number[];
    expect(z).toBe(height);
  });
});
