import { expect, test } from 'vitest';
import { writeSectionTable } from '../../src/load/write-section-table.ts';
import { seededRandom } from '../../src/math/random.ts';
import { bytesOf, ellipse, failure, read, readCloud, readSections, sectionCsv } from './read.ts';

const loop = ellipse(12);
const flat = Float64Array.from(loop.flat());
const comma = (value: number): string => String(value).replace('.', ',');

test('a section table comes back bit for bit', async () => {
  const sections = [
    { id: 'root, lower', height: 1 / 3, points: flat },
    { id: '2', height: 77.7, points: flat.map((v) => v * Math.SQRT2) },
  ];
  const text = writeSectionTable({ kind: 'sections', sections }, { stateUnit: true });
  const { shape, unitStated, points } = await read(text);
  expect(shape).toEqual({ kind: 'sections', sections });
  expect([unitStated, points]).toEqual([true, 24]);
});

test('columns in any order, rows interleaved and heights falling', async () => {
  const rows = loop.flatMap(([x, y]) => [`${y};b;${x};30`, `${y};a;${x};10`]);
  const table = await readSections(`y;section;x;height\n${rows.join('\n\n')}`);
  expect(table.sections.map(({ id, height }) => [id, height])).toEqual([
    ['a', 10],
    ['b', 30],
  ]);
  expect(table.sections[1].points).toEqual(flat);
});

test.each([
  ['comma', (x: number, y: number, z: number) => `${x},${y},${z}`],
  ['comma and blank', (x: number, y: number, z: number) => `${x}, ${y}, ${z}`],
  ['semicolon', (x: number, y: number, z: number) => `${x};${y};${z}`],
  ['tab', (x: number, y: number, z: number) => `${x}\t${y}\t${z}`],
  ['blanks', (x: number, y: number, z: number) => `  ${x}  ${y} ${z} `],
  ['semicolon, decimal comma', (x: number, y: number, z: number) => `${comma(x)};${comma(y)};${comma(z)}`],
  ['tab, decimal comma', (x: number, y: number, z: number) => `${comma(x)}\t${comma(y)}\t${comma(z)}`],
  ['blank, decimal comma', (x: number, y: number, z: number) => `${comma(x)} ${comma(y)} ${comma(z)}`],
  ['quoted, decimal comma', (x: number, y: number, z: number) => `"${comma(x)}";"${comma(y)}";"${comma(z)}"`],
  ['trailing comma', (x: number, y: number, z: number) => `${x},${y},${z},`],
])('points set apart by %s', async (_, row) => {
  const points = loop.map(([x, y], i): [number, number, number] => [x, y, 0.5 + i * 1.25]);
  const text = points.map(([x, y, z]) => row(x, y, z)).join('\n');
  for (const content of [text, `\uFEFF${text.replaceAll('\n', '\r\n')}`, `% note\n// note\n#note\n${text}\n\n`]) {
    expect((await readCloud(content)).positions).toEqual(Float64Array.from(points.flat()));
  }
});

test('0,435;1,2 and 0.435,1.2 are the same', async () => {
  const a = await readSections(`section;z;x;y\n${loop.map(([x, y]) => `A;0,435;${comma(x)};${comma(y)}`).join('\n')}`);
  const b = await readSections(`section,z,x,y\n${loop.map(([x, y]) => `A,0.435,${x},${y}`).join('\n')}`);
  expect(a).toEqual(b);
  expect(a.sections[0].height).toBe(0.435);
});

test.each(['utf-16le', 'utf-16be'])('%s with byte-order mark', async (encoding) => {
  const text = `\uFEFF${sectionCsv()}`;
  const bytes = new Uint8Array(2 * text.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), encoding === 'utf-16le');
  const plain = await readSections(sectionCsv());
  for (const chunk of [undefined, 1, 5]) expect((await read(bytes, {}, chunk)).shape).toEqual(plain);
});

test('without header: label in front, one column constant per group', async () => {
  const rows = (a: string, b: string): string =>
    loop.flatMap(([x, y]) => [`${a} ${x} 5.5 ${y}`, `${b} ${x} 9 ${y}`]).join('\n');
  for (const [a, b] of [
    ['root', 'tip'],
    ['01', '02'],
  ]) {
    const { sections } = await readSections(rows(a, b));
    expect(sections.map(({ id, height }) => [id, height])).toEqual([
      [a, 5.5],
      [b, 9],
    ]);
    expect(sections[0].points).toEqual(flat);
  }
});

test('x y z in levels is a section table, one level is a cloud', async () => {
  const level = (z: number): string => loop.map(([x, y]) => `${x} ${y} ${z}`).join('\n');
  const { sections } = await readSections(`${level(20)}\n\n${level(10)}\n`);
  expect(sections.map(({ id, height }) => [id, height])).toEqual([
    ['s1', 10],
    ['s2', 20],
  ]);
  expect(sections[1].points).toEqual(flat);
  expect((await readCloud(level(20))).positions.length).toBe(36);
  expect((await readCloud(`${level(20)}\n${level(10)}\n1 2 20`)).positions.length).toBe(75);
});

test('levels that are no outlines stay a cloud with a warning', async () => {
  const raster = [1, 2].flatMap((z) => [0, 7, 2, 5, 4, 3, 6, 1, 8].map((k) => `${(k * 5) % 9} ${(k * k) % 7} ${z}`));
  const { shape, warnings } = await read(raster.join('\n'));
  expect(shape.kind).toBe('cloud');
  expect(warnings.map(({ code }) => code)).toContain('load/levels-not-outlines');
});

test('six columns with unit normals, more columns with a warning', async () => {
  const cloud = await readCloud('0 0 9 0 0 1\n5.5 1 2 0.6 0.8 0\n');
  expect(Array.from(cloud.normals ?? [])).toEqual([0, 0, 1, 0.6, 0.8, 0]);
  const { shape, warnings } = await read('0.5 0 9 17\n5.5 1 2 18\n');
  expect(shape.kind === 'cloud' && Array.from(shape.positions)).toEqual([0.5, 0, 9, 5.5, 1, 2]);
  expect(warnings[0].code).toBe('load/extra-columns');
});

test.each([
  ['section,z [mm],x [mm],y [mm]', 'mm'],
  ['section,z_in,x_in,y_in', 'inch'],
  ['# units: inch\nsection,z,x,y', 'inch'],
  ['unit: mm\nsection,z,x,y', 'mm'],
  ['# all coordinates are in millimetres\nsection,z,x,y', 'mm'],
])('the unit in %j', async (head, unit) => {
  const text = sectionCsv().replace('section,z,x,y', head);
  const loaded = await read(text);
  expect([loaded.unit, loaded.unitStated]).toEqual([unit, true]);
  expect(loaded.box.max[2]).toBe(unit === 'mm' ? 20 : 20 * 25.4);
});

test('the unit given by the caller, and none at all', async () => {
  const inch = await read(sectionCsv(), { unit: 'inch' });
  expect([inch.unit, inch.unitStated, inch.box.min[2]]).toEqual(['inch', false, 254]);
  const none = await read(sectionCsv());
  expect([none.unit, none.unitStated, none.warnings]).toEqual(['mm', false, []]);
  const both = await read(`# units: mm\n${sectionCsv()}`, { unit: 'inch' });
  expect([both.unit, both.warnings[0].code]).toEqual(['mm', 'load/unit-conflict']);
});

test('a size no blade has gives a warning', async () => {
  for (const text of ['0 0 0\n1 1 1.5\n', '0 0 0\n1 1 1500.5\n']) {
    expect((await read(text)).warnings.map(({ code }) => code)).toEqual(['load/unit-plausibility']);
  }
});

test('less than 1 % of rows not finite are dropped from a cloud', async () => {
  const rows = Array.from({ length: 300 }, (_, i) => `${i} ${i % 7} ${i / 8}`);
  rows[41] = '3 nan 5';
  const { shape, warnings, points } = await read(rows.join('\n'));
  expect(shape.kind === 'cloud' && shape.positions.length).toBe(3 * 299);
  expect([points, warnings[0].code, warnings[0].where]).toEqual([300, 'load/non-finite-dropped', 'file, from line 42']);
  expect(warnings[0].message).toContain('1 of 300');
});

test('equal points are counted; in sections those in a row are taken out', async () => {
  const cloud = await read('0.5 0 0\n9 9 9\n0.5 0 0\n0.5 -0 0\n');
  expect(cloud.warnings[0].message).toContain('2 of 4');
  const lines = sectionCsv().trim().split('\n');
  lines.splice(3, 0, lines[2]);
  lines.splice(14, 0, lines[1]);
  const table = await read(lines.join('\n'));
  expect(table.shape.kind === 'sections' && table.shape.sections[0].points.length).toBe(26);
  expect(table.warnings.map(({ code, message }) => [code, message[0]])).toEqual([['load/duplicate-points', '1']]);
});

test('a first line with the number of rows', async () => {
  expect((await readCloud('2\n0 0 9\n5.5 1 2\n')).positions.length).toBe(6);
  expect((await failure('3\n0 0 9\n5.5 1 2\n')).code).toBe('load/truncated');
});

test('decimal mark that cannot be told, and its remedy', async () => {
  const text = '10,5,20,3,7,1\n11,5,21,3,8,2\n';
  const error = await failure(text);
  expect(error.code).toBe('load/decimal-mark-unclear');
  expect(error.message).toMatch(/6 numbers.*3 with the comma/);
  expect(error.remedy).toContain('decimal');
  expect((await readCloud(text, { decimal: ',' })).positions).toEqual(
    Float64Array.of(10.5, 20.3, 7.1, 11.5, 21.3, 8.2),
  );
  expect((await readCloud(text, { decimal: '.' })).positions).toEqual(Float64Array.of(10, 5, 20, 11, 5, 21));
});

const bowTie = [...ellipse(12).slice(0, 3), ...ellipse(12).slice(3, 9).reverse(), ...ellipse(12).slice(9)];
const oneHeight = sectionCsv().replaceAll('s20,20', 's20,10');

test.each([
  ['1,234\n2,345\n', 'load/decimal-mark-unclear', 'file'],
  ['1,5;2,5;3,5\n1.5;2,5;3,5\n', 'load/decimal-mark-unclear', 'file'],
  [' \n\n', 'load/no-points', 'file'],
  ['# only a note\n', 'load/no-points', 'file'],
  ['section,z,x,y\n', 'load/no-points', 'file'],
  ['a story\nof words\n', 'load/format-unknown', 'file, byte 0'],
  ['one,two,three\n1,2,3.5\n4,5,6\n', 'load/format-unknown', 'file, line 1'],
  ['1.5 2.5\n3 4\n', 'load/format-unknown', 'file, line 1'],
  ['0 0 1\n0 abc 2\n', 'load/not-a-number', 'file, line 2, column 2'],
  ['x,y,z\n0,0,1\n0,,2\n', 'load/not-a-number', 'file, line 3, column 2'],
  ['0 0 1\n0 NaN 2\n', 'load/not-a-number', 'file, line 2, column 1 or later'],
  ['nan nan nan\nnan nan inf\n', 'load/all-non-finite', 'file, line 1'],
  ['0 0 1\n0 1\n', 'load/column-count', 'file, line 2'],
  ['99999999\n0 0 1\n0 1 2\n', 'load/absurd-count', 'file, line 1'],
  ['# units: cm\n0 0 1\n0 1 2\n', 'load/unit-unknown', 'file, line 1'],
  ['section,z [mm],x [in],y [mm]\na,1,2,3\n', 'load/unit-conflict', 'file, line 1'],
  [sectionCsv(7), 'load/section-too-few-points', 'file, section s10 (line 2)'],
  [sectionCsv().replace('s10,10,', 's10,nan,'), 'load/not-a-number', 'file, line 2, column 2'],
  [sectionCsv().replace('s10,10,', 's10,14,'), 'load/section-not-flat', 'file, section s10'],
  [oneHeight, 'load/sections-one-height', 'file, section s20'],
  [
    `section,z,x,y\n${bowTie.map(([x, y]) => `a,1,${x},${y}`).join('\n')}`,
    'load/section-crosses-itself',
    'file, section a (line 2)',
  ],
])('refused: %j', async (text, code, where) => {
  for (const chunk of [undefined, 1]) {
    const error = await failure(bytesOf(text), {}, chunk);
    expect([error.code, error.where]).toEqual([code, where]);
    expect(error.remedy.length).toBeGreaterThan(10);
  }
});

test('one section alone is a table of one', async () => {
  const text = `section,z,x,y\n${loop.map(([x, y]) => `a,1,${x},${y}`).join('\n')}`;
  expect((await readSections(text)).sections.length).toBe(1);
});

test('rows beyond the first 64 kB, in pieces that cut lines', async () => {
  const random = seededRandom(3);
  const values = Float64Array.from({ length: 15_000 }, () => 200 * random() - 100);
  const rows = Array.from({ length: 5000 }, (_, i) => Array.from(values.subarray(3 * i, 3 * i + 3)).join('\t'));
  const text = rows.join('\r\n');
  for (const chunk of [undefined, 997, 65535, 65537]) {
    const { shape } = await read(text, {}, chunk);
    expect(shape.kind === 'cloud' && shape.positions).toEqual(values);
  }
  const error = await failure(text.replace(rows[4000], `${rows[4000]}x`), {}, 997);
  expect([error.code, error.where]).toEqual(['load/not-a-number', 'file, line 4001, column 3']);
});

test.each([
  ['1 4.5 7 9\n2 5 8.5 9\n3 6 9 1.5\n'],
  ['P1;4,5;7;9\nP2;5;8,5;9\nP3;6;9;1,5\n'],
  ['id,z,y,x\n1,9,7,4.5\n7,9,8.5,5\n3,1.5,9,6\n'],
])('points with numbers or names of their own: %j', async (text) => {
  const { shape, warnings } = await read(text);
  expect(shape.kind === 'cloud' && Array.from(shape.positions)).toEqual([4.5, 7, 9, 5, 8.5, 9, 6, 9, 1.5]);
  expect(warnings[0].code).toBe('load/point-names');
});

test.each(['z [mm]  x [mm]  y [mm]', '# z x y', 'Z_mm X_mm Y_mm'])('points under the header %j', async (head) => {
  expect((await readCloud(`${head}\n9 4.5 7\n1.5 6 9\n`)).positions).toEqual(Float64Array.of(4.5, 7, 9, 6, 9, 1.5));
});
