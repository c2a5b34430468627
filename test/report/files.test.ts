import { describe, expect, test } from 'vitest';
import type { CamberwrightError } from '../../src/error.ts';
import type { Results } from '../../src/model/results.ts';
import { CHARACTERISTIC_FIELDS, characteristicsCsv } from '../../src/report/characteristics-csv.ts';
import { RAMP, rgbOf } from '../../src/report/colours.ts';
import { csvField, csvText } from '../../src/report/csv.ts';
import { mapCsv } from '../../src/report/map-csv.ts';
import { mapPly } from '../../src/report/map-ply.ts';
import { resultsFromJson, resultsToJson } from '../../src/report/results-json.ts';
import { planJsonSchema, resultsJsonSchema } from '../../src/report/results-schema.ts';
import { exampleResults } from '../support/example-results.ts';

const results = exampleResults();

describe('JSON', () => {
  test('round trip to the last bit, timing last, order of keys independent of the maker', () => {
    const text = resultsToJson(results);
    expect(resultsFromJson(text, 'r.json')).toEqual(results);
    expect(Object.keys(JSON.parse(text)).at(-1)).toBe('timing');
    const shuffled = Object.fromEntries(Object.entries(results).reverse()) as Results;
    expect(resultsToJson(shuffled)).toBe(text);
  });

  test('NaN is a fault of the tool', () => {
    const broken = { ...results, timing: { load: Number.NaN } };
    expect(() => resultsToJson(broken)).toThrowError(
      expect.objectContaining({ code: 'fault/results', where: 'timing.load' }),
    );
  });

  test.each([
    ['{', 'not JSON'],
    ['[]', 'not a results document'],
    ['{"schema":"camberwright/results","schemaVersion":9}', 'version 9'],
    ['{"schema":"camberwright/results","schemaVersion":1}', 'damaged'],
  ])('%s is refused', (text, message) => {
    let error: CamberwrightError | null = null;
    try {
      resultsFromJson(text, 'r.json');
    } catch (thrown) {
      error = thrown as CamberwrightError;
    }
    expect(error).toMatchObject({ code: 'load/results', message: expect.stringContaining(message) });
  });
});

test.each([
  ['results', resultsJsonSchema()],
  ['plan', planJsonSchema()],
])('the JSON Schema of %s is closed and current', (name, schema) => {
  expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
  expect(schema.$id).toBe(`camberwright-${name}-1.schema.json`);
  expect(schema).toMatchObject({ type: 'object', additionalProperties: false });
  expect(schema.required).toContain('schemaVersion');
  expect(() => JSON.stringify(schema)).not.toThrow();
});

describe('CSV', () => {
  test.each([
    ['a,b', '"a,b"'],
    ['say "x"', '"say ""x"""'],
    ['two\nlines', '"two\nlines"'],
    ['=1+1', "'=1+1"],
    ['@x', "'@x"],
    ['-x', "'-x"],
    ['plain', 'plain'],
    [-1.5, '-1.5'],
    [null, ''],
  ])('field %j is written %j', (value, written) => {
    expect(csvField(value)).toBe(written);
  });

  test('separator and line ends', () => {
    expect(csvText([['a;b', 'c,d']], ';')).toBe('"a;b";c,d\r\n');
  });

  test('characteristics: a head of titles and a line a row', () => {
    const lines = characteristicsCsv(results).trimEnd().split('\r\n');
    expect(lines[0]).toBe(CHARACTERISTIC_FIELDS.join(','));
    expect(lines).toHaveLength(results.characteristics!.length + 1);
    const radius = lines.find((line) => line.startsWith('14,Section 4,'))!;
    expect(radius).toContain('FAIL');
    expect(radius).toContain(',0.394,');
    expect(lines.find((line) => line.startsWith('9,Section 4'))).toContain('Not measured');
  });

  test('a hostile name is defused', () => {
    const evil = { ...results.characteristics![0], name: '=HYPERLINK("x")' };
    expect(characteristicsCsv({ ...results, characteristics: [evil] })).toContain(`"'=HYPERLINK(""x"")"`);
  });

  test('map: a line a cell, empty where not measured', () => {
    const lines = mapCsv(results).trimEnd().split('\r\n');
    expect(lines).toHaveLength(1 + 40 * 120);
    const gaps = results.map!.deviation.flat().filter((d) => d === null).length;
    expect(lines.filter((line) => line.includes(',,,'))).toHaveLength(gaps);
    const { map: _, ...bare } = results;
    expect(
      mapCsv(bare as Results)
        .trimEnd()
        .split('\r\n'),
    ).toHaveLength(1);
  });
});

test('PLY carries places, step colours and deviation', () => {
  const bytes = mapPly({
    positions: Float64Array.of(0, 0, 0, 1.5, 0, 0, 0, 2.25, 0),
    triangles: Uint32Array.of(0, 1, 2),
    deviation: Float64Array.of(0.12, -0.5, Number.NaN),
    limitsOf: () => ({ lower: -0.1, upper: 0.1 }),
  });
  const text = new TextDecoder('latin1').decode(bytes);
  const start = text.indexOf('end_header\n') + 11;
  expect(text).toContain('element vertex 3\n');
  expect(bytes.length).toBe(start + 3 * 35 + 13);
  const view = new DataView(bytes.buffer, start);
  expect([view.getFloat64(35, true), view.getFloat64(35 + 27, true)]).toEqual([1.5, -0.5]);
  expect([...bytes.subarray(start + 24, start + 27)]).toEqual(rgbOf(RAMP[5].colour));
  expect([...bytes.subarray(start + 35 + 24, start + 35 + 27)]).toEqual(rgbOf(RAMP[0].colour));
  expect([...bytes.subarray(start + 70 + 24, start + 70 + 27)]).toEqual([128, 128, 128]);
  expect(view.getFloat64(70 + 27, true)).toBeNaN();
  expect(view.getUint32(105 + 9, true)).toBe(2);
});
