import { describe, expect, it } from 'vitest';
import { type Strip, stripGeometry, stripsOf } from '../../../components/plots/strip-geometry.ts';
import { stripSvg } from '../../../components/plots/strip-picture.ts';
import type { SectionResult } from '../../../src/model/results.ts';
import { exampleResults } from '../../support/example-results.ts';

const ROOM = { width: 300, height: 140, margin: { left: 50, top: 8, right: 10, bottom: 30 } };
const along = Array.from({ length: 81 }, (_, i) => i - 40);
const curvature = along.map((s) => (s === 10 ? null : Math.abs(s) < 2 ? 3 : -0.01));
const section: SectionResult = {
  ...exampleResults().sections[0],
  plot: {
    ...exampleResults().sections[0].plot!,
    along: [],
    curvature: { along, value: curvature, u: curvature.map((k) => (k === null ? null : 0.004)) },
    thickness: { at: [0, 0.5, 1], value: [0.6, 2, 0.4], nominal: { at: [0, 1], value: [0.6, 0.4] } },
    waviness: {
      suction: { along: [-5, -6, -7], waves: [0.001, null, -0.002] },
      pressure: { along: [5, 6, 7], waves: [0.003, 0, -0.001] },
    },
  },
};
const strip = (id: Strip['id']): Strip => stripsOf(section).find((one) => one.id === id)!;

describe('strips under the section', () => {
  it('are those the section has data for', () => {
    expect(stripsOf(section).map((one) => one.id)).toEqual(['curvature', 'thickness', 'waviness']);
    expect(stripsOf(exampleResults().sections[0])).toEqual([]);
  });

  it('share one axis along the outline', () => {
    const [a, b] = [stripGeometry(strip('curvature'), ROOM), stripGeometry(strip('waviness'), ROOM)];
    for (const at of [-40, -5, 0, 7, 40]) expect(a.x(at)).toBeCloseTo(b.x(at), 9);
  });

  it('spread curvature so that edges and flanks both show, keeping order, sign and zero', () => {
    const g = stripGeometry(strip('curvature'), ROOM);
    expect(g.y(3)).toBeLessThan(g.y(0.1));
    expect(g.y(0.1)).toBeLessThan(g.zero!);
    expect(g.y(-0.01)).toBeGreaterThan(g.zero!);
    expect(Math.abs(g.y(-0.01) - g.zero!)).toBeGreaterThan(4);
    expect(g.valueTicks.some((tick) => tick.value === 0)).toBe(true);
    for (const tick of g.valueTicks) expect(g.y(tick.value)).toBeCloseTo(tick.at, 9);
  });

  it('leave gaps open, and hold the band to the plot', () => {
    const g = stripGeometry(strip('curvature'), ROOM);
    expect(g.line.match(/M/g)).toHaveLength(2);
    const ys = [...g.band.matchAll(/[ML]-?[\d.]+ (-?[\d.]+)/g)].map((m) => Number(m[1]));
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(g.plot.y);
    expect(Math.max(...ys)).toBeLessThanOrEqual(g.plot.y + g.plot.height);
    const waves = stripGeometry(strip('waviness'), ROOM);
    expect(waves.line.match(/M/g)).toHaveLength(3);
  });

  it('give their numbers with U, and a picture that stands alone', () => {
    expect(strip('curvature').numbers.rows[0]).toEqual([-40, -0.01, 0.008]);
    expect(strip('waviness').numbers.rows.map((r) => r[0])).toEqual([-7, -6, -5, 5, 6, 7]);
    const text = stripSvg(strip('thickness'), 'A: thickness');
    expect(text).toContain('A: thickness');
    expect(text).toContain('dashed: nominal');
    expect(text).toMatch(/^<svg|^<\?xml/);
  });
});
