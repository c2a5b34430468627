import { describe, expect, it } from 'vitest';
import { edgesOf } from './edge-shapes.ts';
import { CAMBERED, diskPoints, nacaHalf, nacaPoints, platePoints, sectionOf } from './shapes.ts';

const FROM = ['CH-FAR', 'EP-CAM', 'nose'];
const ALONG = ['chord', 'camber'];

describe('thickness at a set-back', () => {
  it('differs between cut and inscribed circle on a 3:1 elliptic edge', () => {
    const at = edgesOf(sectionOf(platePoints(40, 3, 1, 1000, 1000)));
    for (const edge of ['leading', 'trailing'] as const)
      for (const from of FROM)
        for (const along of ALONG) {
          const value = (id: string) => at(edge, 'edge-thickness', id, { from, along }, 1).value;
          expect(value('T-ORD')).toBeCloseTo(2 * Math.sqrt(1 - 4 / 9), 5);
          expect(value('T-CAM')).toBeCloseTo(2 * Math.sqrt(1 - 4 / 9), 5);
          expect(value('T-MIC')).toBeCloseTo(2 * Math.sqrt(1 - 4 / 8), 5);
        }
  });
  it('is that of the discs along the camber line of a cambered section', () => {
    const at = edgesOf(sectionOf(diskPoints(CAMBERED, 1400, 600)));
    const length = (50 * 40 * Math.PI) / 180;
    const disc = at('leading', 'edge-thickness', 'T-MIC', { from: 'EP-CAM', along: 'camber' }, 3);
    expect(disc.value).toBeCloseTo(2 * CAMBERED.radius(2.5 / length), 5);
    const tail = at('trailing', 'edge-thickness', 'T-MIC', { from: 'nose', along: 'camber' }, 3);
    expect(tail.value).toBeCloseTo(2 * CAMBERED.radius(1 - 2.7 / length), 5);
    // The end of the longest chord lies at the radius times the cosine of 20 degrees along the camber line.
    const far = at('leading', 'edge-thickness', 'T-MIC', { from: 'CH-FAR', along: 'camber' }, 3);
    expect(far.value).toBeCloseTo(2 * CAMBERED.radius((3 - 0.5 * Math.cos(Math.PI / 9)) / length), 5);
  });
  it('finds the centre whose set-back along the chord is asked for', () => {
    const at = edgesOf(sectionOf(diskPoints(CAMBERED, 1400, 600)));
    const { value, evidence } = at('leading', 'edge-thickness', 'T-MIC', { from: 'CH-FAR', along: 'chord' }, 3);
    const end = -50 * Math.sin(Math.PI / 9) - 0.5;
    expect(evidence?.centreX).toBeCloseTo(end + 3, 6);
    const u = ((Math.asin((end + 3) / 50) * 180) / Math.PI + 20) / 40;
    expect(value).toBeCloseTo(2 * CAMBERED.radius(u), 5);
  });
  it('is cut between the contacts it names', () => {
    const at = edgesOf(sectionOf(nacaPoints(1, 2000), [0]));
    const { value, evidence } = at('leading', 'edge-thickness', 'T-ORD', {}, 0.1);
    expect(value).toBeCloseTo(2 * nacaHalf(0.1), 6);
    expect(evidence?.x1).toBeCloseTo(0.1, 6);
    expect(evidence?.x2).toBeCloseTo(0.1, 6);
    expect(Math.abs((evidence?.y1 as number) - (evidence?.y2 as number))).toBeCloseTo(value as number, 9);
    expect(at('trailing', 'edge-thickness', 'T-ORD', {}, 0.1).value).toBeCloseTo(2 * nacaHalf(0.9), 6);
  });
  it('needs a set-back that the section has', () => {
    const at = edgesOf(sectionOf(nacaPoints(1, 500), [0]));
    expect(at('leading', 'edge-thickness', 'T-ORD').status).toBe('not-applicable');
    expect(at('leading', 'edge-thickness', 'T-ORD', {}, 0.6).status).toBe('not-applicable');
    expect(at('leading', 'edge-thickness', 'T-MIC', {}, 0.01).status).toBe('not-applicable');
    expect(at('leading', 'edge-thickness', 'T-CAM', {}, 0.01).status).toBe('ok');
  });
});
