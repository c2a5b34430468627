import { describe, expect, test } from 'vitest';
import { stepOf } from '../../src/report/colours.ts';
import { axisTicks, linearScale, padDomain, roundLength, scaleBar } from '../../src/report/svg/axis.ts';
import { colourKeyGeometry, limitsText } from '../../src/report/svg/colour-key-geometry.ts';
import { edgeStripGeometry } from '../../src/report/svg/edge-strip-geometry.ts';
import { mapCellLimits, mapLimits } from '../../src/report/svg/map-limits.ts';
import { outlinePlotGeometry } from '../../src/report/svg/outline-plot-geometry.ts';
import { bandPath, escapeXml, linePath, px } from '../../src/report/svg/path.ts';
import { outwardNormals, stepRuns, valueAlong } from '../../src/report/svg/plot-samples.ts';
import { chooseMagnification, sectionPlotGeometry } from '../../src/report/svg/section-plot-geometry.ts';
import { surfaceMapGeometry } from '../../src/report/svg/surface-map-geometry.ts';
import { trendPanelGeometry } from '../../src/report/svg/trend-geometry.ts';
import { aboutNominal, trendSeries } from '../../src/report/svg/trend-series.ts';
import { exampleResults } from '../support/example-results.ts';

const results = exampleResults();
const limits = mapLimits(results);

describe('paths and axes', () => {
  test('gaps lift the pen', () => {
    expect(linePath([0, 1, 2, 3], [0, null, 1, 2])).toBe('M0 0M2 1L3 2');
    expect(bandPath([0, 1, 2, 3, 4], [0, 0, null, 0, 0], [1, 1, 1, 1, 1])).toBe('M0 0L1 0L1 1L0 1ZM3 0L4 0L4 1L3 1Z');
    expect(px(-0.001)).toBe('0');
  });

  test('text is made safe', () => {
    expect(escapeXml(`<a b="c">&'\u0000\ud800`)).toBe('&lt;a b=&quot;c&quot;&gt;&amp;&#39;\ufffd\ufffd');
  });

  test('scales invert, ticks are round, bars are honest', () => {
    const scale = linearScale([-2, 3], [100, 0]);
    expect(scale(0.5)).toBe(50);
    expect(scale.invert(scale(1.234))).toBeCloseTo(1.234, 12);
    expect(axisTicks([0, 0.1], linearScale([0, 0.1], [0, 1]), 2).map((tick) => tick.text)).toEqual([
      '0.00',
      '0.05',
      '0.10',
    ]);
    expect([0.9, 1, 4.9, 7, 0.03].map(roundLength)).toEqual([0.5, 1, 2, 5, 0.02]);
    const bar = scaleBar(7, 100, 10, 0);
    expect((bar.x2 - bar.x1) / 7).toBeCloseTo(bar.length, 12);
    expect(padDomain(1, 1)[0]).toBeLessThan(1);
  });
});

describe('surface map', () => {
  const options = { limits: mapCellLimits(results, limits), width: 500, height: 400 };
  const geometry = surfaceMapGeometry(results.map!, options);

  test('ten millimetres at any place measure ten millimetres', () => {
    for (const height of [5, 60, 110])
      for (const along of [-25, -3, 0, 12])
        expect(
          Math.abs(geometry.x(along + 10, height) - geometry.x(along, height)) / geometry.pxPerMmAlong,
        ).toBeCloseTo(10, 9);
    expect(Math.abs(geometry.y(20) - geometry.y(30)) / geometry.pxPerMmHeight).toBeCloseTo(10, 9);
    expect(geometry.pxPerMmAlong).toBe(geometry.pxPerMmHeight);
  });

  test('suction side left, height up, leading edge between', () => {
    expect(geometry.x(-5, 50)).toBeLessThan(geometry.x(0, 50));
    expect(geometry.y(100)).toBeLessThan(geometry.y(10));
    expect(geometry.x(0, 5)).toBeCloseTo(geometry.x(0, 115), 9);
  });

  test('every cell is found under its own place', () => {
    const { heights, along } = results.map!;
    for (const row of [0, 17, 39])
      for (const column of [0, 30, 59, 60, 119])
        expect(geometry.cellAt(geometry.x(along[row][column], heights[row]), geometry.y(heights[row]))).toEqual({
          row,
          column,
        });
    expect(geometry.cellAt(-1, -1)).toBeNull();
  });

  test('stretched rows fill the width', () => {
    const stretched = surfaceMapGeometry(results.map!, { ...options, scale: 'stretched' });
    expect(stretched.plot.width).toBeCloseTo(500, 9);
    const left = /^M(\S+) /.exec(stretched.outline)![1];
    expect(Number(left)).toBeCloseTo(stretched.plot.x, 1);
    const top = results.map!.along.length - 1;
    const end = results.map!.along[top][119];
    expect(stretched.x(end, 119)).toBeGreaterThan(stretched.plot.x + stretched.plot.width - 10);
  });

  test('steps drawn are those of the cells; a gap is drawn as such', () => {
    const wanted = new Set(
      results.map!.deviation.flatMap((row, i) =>
        row.flatMap((d, j) => (d === null ? [] : [stepOf(d, options.limits[i][j].lower, options.limits[i][j].upper)])),
      ),
    );
    expect(new Set(geometry.steps.map((step) => step.step))).toEqual(wanted);
    expect(geometry.notMeasured).not.toBe('');
    expect(geometry.limitLine).not.toBe('');
  });

  test('filled areas add up to the outline', () => {
    const area = (path: string) =>
      path
        .split('Z')
        .filter((piece) => piece)
        .reduce((sum, piece) => sum + shoelace(piece), 0);
    const filled = geometry.steps.reduce((sum, { path }) => sum + area(path), area(geometry.notMeasured));
    expect(filled / Math.abs(shoelace(geometry.outline.replace('Z', '')))).toBeCloseTo(1, 3);
  });
});

function shoelace(path: string): number {
  const points = path
    .slice(1)
    .split('L')
    .map((pair) => pair.split(' ').map(Number));
  return Math.abs(
    points.reduce((sum, [x, y], i) => {
      const [u, v] = points[(i + 1) % points.length];
      return sum + x * v - u * y;
    }, 0) / 2,
  );
}

describe('samples', () => {
  test('values between neighbours, none beside a gap', () => {
    expect(valueAlong([0, 1, 3], [0, 2, null], 0.5)).toBe(1);
    expect(valueAlong([0, 1, 3], [0, 2, null], 2)).toBeNull();
    expect(valueAlong([0, 1, 3], [0, 2, null], 1)).toBe(2);
    expect(valueAlong([0, 1], [0, 1], 1.1)).toBeNull();
  });

  test('normals of a circle point outward', () => {
    const angle = Array.from({ length: 90 }, (_, i) => (2 * Math.PI * i) / 90);
    const normals = outwardNormals({ x: angle.map(Math.cos), y: angle.map(Math.sin) });
    for (let i = 0; i < 90; i += 11) {
      expect(normals.x[i]).toBeCloseTo(Math.cos(angle[i]), 10);
      expect(normals.y[i]).toBeCloseTo(Math.sin(angle[i]), 10);
    }
  });

  test('runs of one step share their borders', () => {
    const none = { lower: -0.1, upper: 0.1 };
    const runs = stepRuns([0, 0.05, 0.12, null, 0, 0], [none, none, none, none, none, none]);
    expect(runs).toEqual([
      { step: 0, from: 0, to: 1 },
      { step: 1, from: 1, to: 2 },
      { step: 0, from: 4, to: 5 },
    ]);
  });
});

describe('section plot', () => {
  const section = results.sections[3];
  const geometry = sectionPlotGeometry(section, { limitsAt: limits.at, width: 600, height: 400 })!;

  test('equal scale, printed magnification, honest bars', () => {
    expect(geometry.x(11) - geometry.x(1)).toBeCloseTo(10 * geometry.pxPerMm, 9);
    expect(geometry.y(1) - geometry.y(11)).toBeCloseTo(10 * geometry.pxPerMm, 9);
    const { deviationBar, magnification } = geometry;
    expect((deviationBar.x2 - deviationBar.x1) / geometry.pxPerMm / magnification).toBeCloseTo(deviationBar.length, 9);
    expect(chooseMagnification(0.1, 2.5)).toBe(20);
    expect(chooseMagnification(0, 2)).toBe(1);
    expect(chooseMagnification(50, 2)).toBe(1);
  });

  test('gaps are left open and marked, the measured line is drawn by the rule', () => {
    expect(geometry.notMeasured).not.toBe('');
    expect(geometry.measured.split('M').length).toBeGreaterThan(2);
    const { samples } = geometry;
    const i = samples.deviation.findIndex((d, k) => d !== null && Math.abs(samples.along[k]) > 8);
    const offset = geometry.magnification * samples.deviation[i]!;
    const x = px(geometry.x(samples.x[i] + offset * samples.normalX[i]));
    expect(geometry.measured).toContain(`${x} ${px(geometry.y(samples.y[i] + offset * samples.normalY[i]))}`);
  });

  test('a nose eaten deeper than its radius is not drawn inside out', () => {
    expect(geometry.folded).toBe(true);
    expect(
      sectionPlotGeometry(section, { limitsAt: limits.at, magnification: 1, width: 600, height: 400 })!.folded,
    ).toBe(false);
  });

  test('the nearest sample is found', () => {
    const { samples } = geometry;
    expect(geometry.nearest(geometry.x(samples.x[77]), geometry.y(samples.y[77]))).toBe(77);
  });

  test('nothing to draw without a nominal outline', () => {
    const { plot: _, ...bare } = section;
    expect(sectionPlotGeometry(bare, { limitsAt: limits.at, width: 600, height: 400 })).toBeNull();
    expect(outlinePlotGeometry(bare, { limitsAt: limits.at, width: 600, height: 400 })).toBeNull();
    expect(edgeStripGeometry(bare, { limitsAt: limits.at, width: 600, height: 400 })).toBeNull();
  });
});

test('outline plot: gap shown, nearest position skips it, axis can be shared', () => {
  const section = results.sections[3];
  const own = outlinePlotGeometry(section, { limitsAt: limits.at, width: 600, height: 200 })!;
  expect(own.gaps).toHaveLength(1);
  const inGap = (own.gaps[0][0] + own.gaps[0][1]) / 2;
  expect(section.plot!.deviation[own.nearest(inGap)]).not.toBeNull();
  expect(own.fills.map((fill) => fill.step)).toContain(0);
  const shared = outlinePlotGeometry(section, {
    limitsAt: limits.at,
    width: 600,
    height: 200,
    alongDomain: [-50, 50],
  })!;
  expect(shared.leadingEdge).toBeCloseTo(shared.plot.x + shared.plot.width / 2, 9);
});

test('edge strip: both noses over ±90 degrees, suction side negative', () => {
  const strip = edgeStripGeometry(results.sections[0], { limitsAt: limits.at, width: 600, height: 200 })!;
  expect(strip.edges.map((edge) => edge.edge)).toEqual(['leading', 'trailing']);
  for (const { angleDeg, deviation } of strip.edges) {
    expect(angleDeg.every((angle, i) => i === 0 || angle >= angleDeg[i - 1])).toBe(true);
    expect(angleDeg[0]).toBeLessThan(-75);
    expect(angleDeg.at(-1)).toBeGreaterThan(75);
    expect(deviation.every((d) => d !== null)).toBe(true);
  }
});

describe('trends', () => {
  const series = trendSeries(results);
  const radius = series.find((one) => one.of === 'leadingEdge.radiusFit')!;

  test('one series a quantity, heights rising, missing values kept as such', () => {
    expect(series.map((one) => one.of)).toContain('leadingEdge.thicknessAt(2)');
    expect(radius.heights).toEqual([12, 36, 60, 90, 111]);
    const thickness = series.find((one) => one.of === 'thicknessMax')!;
    expect(thickness.value[3]).toBeNull();
    const panel = trendPanelGeometry(thickness, { heightDomain: [0, 120], width: 150, height: 250 });
    expect(panel.points).toHaveLength(4);
    expect(panel.missing).toEqual([{ index: 3, y: panel.y(90) }]);
  });

  test('a quantity measured by two definitions makes two series, each named by its own', () => {
    const rows = results.characteristics!.filter((row) => row.of === 'leadingEdge.radiusFit');
    const second = rows.map((row) => ({
      ...row,
      id: row.id.replace('@', '#2@'),
      definition: 'R-SB',
      parameters: { setback: 0.25 },
    }));
    const both = trendSeries({ ...results, characteristics: [...rows, ...second] });
    expect(both.map((one) => one.heights.length)).toEqual([5, 5]);
    expect(both[1].name).toBe(`${rows[0].name}, R-SB 0.25 mm`);
    expect(both[0].name).toBe(
      `${rows[0].name}, ${[rows[0].definition, ...(rows[0].parameters ? ['±60°'] : [])].join(' ')}`,
    );
  });

  test('about nominal the limits are level', () => {
    const about = aboutNominal(radius);
    expect(about.upper.every((upper) => Math.abs(upper! - 0.05) < 1e-12)).toBe(true);
    expect(about.value[3]).toBeCloseTo(-0.068, 12);
    const twist = series.find((one) => one.of === 'twistFitDeg')!;
    expect(aboutNominal(twist)).toBe(twist);
  });

  test('bars are ±2u and the nearest section is found', () => {
    const panel = trendPanelGeometry(radius, { heightDomain: [0, 120], width: 150, height: 250 });
    const { x, low, high, index } = panel.points[2];
    expect(panel.x.invert(high) - panel.x.invert(low)).toBeCloseTo(4 * radius.u[index]!, 9);
    expect((low + high) / 2).toBeCloseTo(x, 9);
    expect(panel.nearest(panel.y(88))).toBe(3);
  });
});

test('the key says what its steps are tied to', () => {
  expect(limitsText({ limits: [] })).toBe('No limits given.');
  expect(limitsText({ limits: [{ lower: null, upper: 0.1 }] })).toBe('Limits up to +0.100 mm.');
  expect(limitsText({ limits: [{ lower: -0.05, upper: 0.05 }], assumed: true })).toContain('No limits in the plan');
  const key = colourKeyGeometry({ width: 480, limits: limits.pairs });
  expect(key.cells.map((cell) => cell.step)).toEqual([-4, -3, -2, -1, 0, 1, 2, 3, 4, 'not-measured']);
  expect(key.cells.at(-1)!.x + key.cells.at(-1)!.width).toBeCloseTo(480, 9);
});

test('without limits in the plan the display limits stand in and say so', () => {
  const free = mapLimits(exampleResults(null));
  expect(free.assumed).toBe(true);
  expect(free.at(1, 1, -1, 1)).toEqual({ lower: -0.05, upper: 0.05 });
});
