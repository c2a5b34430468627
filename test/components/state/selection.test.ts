import { describe, expect, it } from 'vitest';
import {
  chosenSection,
  nearestIndex,
  readingAt,
  rowRange,
  selectCharacteristic,
  selectPlace,
  selectSection,
  sideAt,
  stepWorst,
  worstPlaces,
} from '../../../components/state/selection.ts';
import { exampleResults } from '../../support/example-results.ts';

const results = exampleResults();

describe('selection', () => {
  it('brings the nearest section with a place, and keeps the place when the section changes', () => {
    const at = selectPlace(results, 40, -6);
    expect(at.sectionId).toBe(results.sections[1].id);
    expect(at.side).toBe('suction');
    const next = selectSection(results, at, results.sections[3].id);
    expect(next).toMatchObject({ height: 90, along: -6 });
    expect(chosenSection(results, next)).toBe(results.sections[3]);
  });
  it('goes to the edge a characteristic speaks of', () => {
    const row = results.characteristics!.find((c) => c.id.startsWith('leadingEdge.radiusFit@'))!;
    expect(selectCharacteristic(results, { along: 9 }, row)).toMatchObject({
      along: 0,
      side: 'leading-edge',
      sectionId: row.section,
      characteristicId: row.id,
    });
  });
  it('reads the map cell nearest to the place', () => {
    const { heights, along, deviation } = results.map!;
    for (const [i, j] of [
      [0, 0],
      [20, 60],
      [39, 119],
    ])
      expect(readingAt(results, heights[i], along[i][j]).deviation).toBe(deviation[i][j]);
  });
  it('names the trailing edge at both ends of a row', () => {
    const [low, high] = rowRange(results, 60)!;
    expect(sideAt(results, 60, low)).toBe('trailing-edge');
    expect(sideAt(results, 60, high)).toBe('trailing-edge');
    expect(sideAt(results, 60, 0)).toBe('leading-edge');
  });
  it('steps through the worst places in falling order and round again', () => {
    const places = worstPlaces(results);
    const beyond = places.map((p) => {
      const zone = results.deviation!.zones.find((z) => z.least.place === p || z.most.place === p)!;
      const value = (zone.least.place === p ? zone.least.value : zone.most.value)!;
      return Math.max(0, value - zone.upper!, zone.lower! - value);
    });
    expect([...beyond].sort((a, b) => b - a)).toEqual(beyond);
    expect(beyond[0]).toBeGreaterThan(0);
    let at = stepWorst(results, {}, 1);
    expect(at).toMatchObject({ height: places[0].height, along: places[0].along });
    at = stepWorst(results, at, -1);
    expect(at.height).toBe(places[places.length - 1].height);
  });
  it('finds the nearest entry of a rising list', () => {
    const list = [0, 1, 4, 9];
    for (const v of [-5, 0, 0.4, 0.6, 2.4, 2.6, 6.4, 6.6, 99]) {
      const least = Math.min(...list.map((x) => Math.abs(x - v)));
      expect(Math.abs(list[nearestIndex(list, v)] - v)).toBe(least);
    }
  });
});
