import { describe, expect, it } from 'vitest';
import { compareRows, differences } from '../../../components/panels/compare-rows.ts';
import type { KeptReview } from '../../../components/state/review-state.ts';
import { EVEN, exampleBlank, SHIFT } from '../../support/example-blank.ts';

const kept = (key: string, back: [number, number, number], method: 'best-fit' | 'share-stock'): KeptReview => {
  const { results, zones } = exampleBlank(back, method);
  return { key, name: key, results, zones, wanted: null };
};
const a = kept('A', [0, 0, 0], 'best-fit');
const b = kept('B', [-SHIFT[0], -SHIFT[1], 0], 'share-stock');
const row = (name: string) => compareRows(a, b).find((r) => r.name === name)!;

describe('two kept results', () => {
  it('are set side by side with stock, areas and the six values', () => {
    expect(row('Least').to).toBeCloseTo(EVEN, 12);
    expect(row('Areas short of stock')).toMatchObject({ from: a.results.stock!.areas.length, to: 0 });
    expect(row('Area short of stock').from).toBeCloseTo(
      a.results.stock!.areas.reduce((sum, area) => sum + area.areaMm2, 0),
      9,
    );
    expect(row('Y').to! - row('Y').from!).toBeCloseTo(-SHIFT[1], 12);
    expect(row('about Z')).toMatchObject({ unit: '°', from: 0, to: 0 });
  });

  it('say in what they differ: the placement, the stock wanted, the scan', () => {
    expect(differences(a, b)).toEqual(['placement (best fit; share stock evenly)']);
    expect(differences(a, a)).toEqual([]);
    const wanting = { ...a, zones: a.zones.map((zone) => ({ ...zone, least: 0.1 })) };
    expect(differences(a, wanting)).toHaveLength(1);
    expect(differences(a, wanting)[0]).toMatch(/^stock wanted/);
    const [input] = a.results.inputs.measured!;
    const other = {
      ...a,
      results: { ...a.results, inputs: { ...a.results.inputs, measured: [{ ...input, sha256: '1'.repeat(64) }] } },
    };
    expect(differences(a, other)).toEqual(['scan']);
  });
});
