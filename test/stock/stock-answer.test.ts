import { describe, expect, test } from 'vitest';
import type { Place } from '../../src/model/results.ts';
import type { HeldBy, Stock, StockPlacement } from '../../src/model/stock-results.ts';
import { measured, unmeasured } from '../../src/model/value.ts';
import { stockAnswer } from '../../src/stock/stock-answer.ts';

const place = (height: number, side: Place['side']): Place => ({ height, along: 0, side, point: [0, 0, height] });
const placed = (value: number, at: Place) => ({ ...measured(value, 0.001, 'mm', 'STOCK-LEAST'), place: at });

function placement(spare: number, extra: Partial<StockPlacement> = {}): StockPlacement {
  return {
    method: 'best-fit',
    matrix: Array(16).fill(0),
    spare: measured(spare, 0.001, 'mm', 'STOCK-SPARE'),
    heldBy: [],
    levels: [],
    iterations: 4,
    converged: true,
    curves: [],
    ...extra,
  };
}

function stock(verdict: Stock['zones'][number]['verdict'], least: number, extra: Partial<Stock> = {}): Stock {
  const at = place(84, 'trailing-edge');
  const zone = {
    zone: 'trailing edge',
    reach: { side: 'trailing-edge' as const, from: null, to: null, leading: 2, trailing: 2 },
    wanted: { least: 0.2, most: null },
    least: placed(least, at),
    most: placed(0.9, at),
    mean: measured(0.5, 0.001, 'mm', 'STOCK-MEAN'),
    percentiles: null,
    shortFraction: 0,
    coverage: 1,
    areaMm2: 100,
    volumeMm3: measured(50, 1, 'mm3', 'STOCK-VOLUME'),
    verdict,
    asForged: { verdict: 'no-limit' as const, reason: '' },
  };
  return {
    wanted: { affectedLayer: 0.1, minimumChip: 0.1, locating: 0, factor: 2 },
    least: placed(least, at),
    most: placed(0.9, at),
    mean: measured(0.5, 0.001, 'mm', 'STOCK-MEAN'),
    coverage: 1,
    classes: { enoughMm2: 0, thinMm2: 0, withinBandMm2: 0, lackMm2: 0, notMeasuredMm2: 0 },
    areas: [],
    volumeMm3: measured(50, 1, 'mm3', 'STOCK-VOLUME'),
    zones: [zone],
    placement: placement(least - 0.2),
    better: null,
    offsets: [],
    ...extra,
  };
}

const area: Stock['areas'][number] = {
  kind: 'lack',
  place: place(84, 'trailing-edge'),
  areaMm2: 41,
  least: measured(-0.12, 0.001, 'mm', 'STOCK-LEAST'),
  depth: 0.32,
  fromHeight: 80,
  toHeight: 88,
  zone: 'trailing edge',
};
const held = (zone: string, side: Place['side']): HeldBy => ({
  place: place(96.5, side),
  zone,
  weight: 0.5,
  limit: 'least',
  stock: 0.157,
});

describe('the sentence', () => {
  test('enough everywhere', () => {
    expect(stockAnswer(stock('pass', 0.31))).toEqual({
      text: 'Enough stock everywhere: least 0.310 mm at height 84.0 mm, trailing edge; 0.110 mm to spare.',
      verdict: 'pass',
    });
  });

  test('not yet, and another placement helps', () => {
    const better = placement(0.21, { method: 'share-stock' });
    expect(stockAnswer(stock('fail', -0.12, { areas: [area, area, area], better }))).toEqual({
      text:
        'Not yet: 3 areas short of stock. Least −0.120 mm at height 84.0 mm, trailing edge. ' +
        'A better placement exists (0.210 mm to spare).',
      verdict: 'fail',
    });
    expect(stockAnswer(stock('fail', -0.12, { areas: [area], better })).text).toContain('1 area short');
  });

  test('cannot clean up, by how much and what holds it', () => {
    const heldBy = [
      held('leading edge', 'leading-edge'),
      held('suction side', 'suction'),
      held('suction side', 'suction'),
    ];
    const better = placement(-0.043, { method: 'share-stock', heldBy });
    const text =
      'Cannot clean up: short by 0.043 mm at height 96.5 mm, leading edge, held by leading edge and suction side.';
    expect(stockAnswer(stock('fail', -0.12, { areas: [area], better }))).toEqual({ text, verdict: 'fail' });
    const shared = stock('fail', 0.157, { areas: [area], placement: better });
    expect(stockAnswer(shared).text).toBe(text);
    // A search that did not end proves nothing.
    const open = stock('fail', -0.12, { areas: [area], better: { ...better, converged: false } });
    expect(stockAnswer(open).text).toContain('A better placement exists (short by 0.043 mm).');
  });

  test('not measured is never enough', () => {
    expect(stockAnswer(stock('not-measured', 0.31, { coverage: 0.9421 }))).toEqual({
      text:
        'Enough stock where measured: least 0.310 mm at height 84.0 mm, trailing edge; 0.110 mm to spare. ' +
        '5.8 % not measured.',
      verdict: 'not-measured',
    });
    expect(stockAnswer(stock('not-measured', 0.201, { coverage: 0.9999 })).text).toBe(
      'Not proven where measured: least 0.201 mm at height 84.0 mm, trailing edge; 0.001 mm to spare. 0.1 % not measured.',
    );
    const bare = { ...unmeasured('not-measured', 'No cell is measured.', 'mm', 'STOCK-LEAST'), place: null };
    expect(stockAnswer(stock('not-measured', 0.3, { least: bare, coverage: 0 }))).toEqual({
      text: 'The stock is not measured.',
      verdict: 'not-measured',
    });
  });

  test('not proven, and too much', () => {
    expect(stockAnswer(stock('not-proven', 0.2)).text).toBe(
      'Not proven: least 0.200 mm at height 84.0 mm, trailing edge; 0.000 mm to spare.',
    );
    const thick = stock('fail', 0.3);
    thick.zones[0].wanted.most = 0.8;
    expect(stockAnswer(thick).text).toBe(
      'Not yet: Most 0.900 mm at height 84.0 mm, trailing edge, over the 0.800 mm allowed.',
    );
  });
});
