import { expect, test } from 'vitest';
import { writePly } from '../../src/load/write-ply.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import { corners, failure, objText, plyText, read, readCloud, readMesh, stlText, TETRAHEDRON } from './read.ts';

const truth = corners(TETRAHEDRON);

test('binary STL whose header begins with "solid" is read as binary', async () => {
  expect(corners(await readMesh(writeStl(TETRAHEDRON, 'solid facet')))).toEqual(truth);
});

test('STL text in upper case with CR line ends and a negative zero', async () => {
  const text = stlText(TETRAHEDRON).toUpperCase().replaceAll('\n', '\r').replace('VERTEX 0 0 0', 'VERTEX -0 0 0');
  const mesh = await readMesh(text);
  expect(corners(mesh)).toEqual(truth);
  expect(mesh.positions.length).toBe(12);
});

test('STL text keeps doubles that single precision cannot hold', async () => {
  const mesh = { ...TETRAHEDRON, positions: TETRAHEDRON.positions.map((v) => v + 0.1) };
  expect(corners(await readMesh(stlText(mesh)))).toEqual(corners(mesh));
});

test('triangles with two equal corners are left out with a warning', async () => {
  const mesh = { ...TETRAHEDRON, triangles: Uint32Array.of(...TETRAHEDRON.triangles, 1, 1, 2) };
  const { shape, warnings, triangles } = await read(writeStl(mesh));
  expect(shape.kind === 'mesh' && corners(shape)).toEqual(truth);
  expect(triangles).toBe(5);
  expect(warnings[0].code).toBe('load/flat-triangles');
});

test('bytes after the last triangle give a warning', async () => {
  const bytes = writeStl(TETRAHEDRON);
  const longer = new Uint8Array(bytes.length + 3);
  longer.set(bytes);
  const { warnings } = await read(longer);
  expect(warnings[0].code).toBe('load/trailing-bytes');
});

/** A big-endian mesh with floats, normals, a colour, an extra list and a quadrangle, written by hand. */
function bigEndianPly(): Uint8Array {
  const header = `ply\r\nformat binary_big_endian 1.0\r\ncomment units mm\r\nelement vertex 4\r\nproperty uchar red
property float x\r\nproperty double y\r\nproperty short z\r\nproperty list uchar short tags\r\nelement face 1
property list ushort uint vertex_index\r\nproperty float quality\r\nend_header\r\n`.replace(/\r?\n/g, '\r\n');
  const text = new TextEncoder().encode(header);
  const body = new DataView(new ArrayBuffer(200));
  let at = 0;
  for (const [x, y, z] of [
    [0, 0, 0],
    [10.5, 0.1, 0],
    [10.5, 7.3, 5],
    [0, 7.3, 5],
  ]) {
    body.setUint8(at, 200);
    body.setFloat32(at + 1, x);
    body.setFloat64(at + 5, y);
    body.setInt16(at + 13, z);
    body.setUint8(at + 15, 2);
    at += 20;
  }
  body.setUint16(at, 4);
  for (let k = 0; k < 4; k++) body.setUint32(at + 2 + 4 * k, k);
  body.setFloat32(at + 18, 0.5);
  const bytes = new Uint8Array(text.length + at + 22);
  bytes.set(text);
  bytes.set(new Uint8Array(body.buffer, 0, at + 22), text.length);
  return bytes;
}

test('PLY: big-endian, mixed types, lists skipped, quadrangle cut into a fan', async () => {
  for (const chunk of [undefined, 1, 13]) {
    const { shape, unitStated } = await read(bigEndianPly(), {}, chunk);
    expect(shape.kind === 'mesh' && Array.from(shape.triangles)).toEqual([0, 1, 2, 0, 2, 3]);
    expect(shape.kind === 'mesh' && Array.from(shape.positions)).toEqual([
      0, 0, 0, 10.5, 0.1, 0, 10.5, 7.3, 5, 0, 7.3, 5,
    ]);
    expect(unitStated).toBe(true);
  }
});

test('PLY cloud: doubles bit for bit, normals scaled to one', async () => {
  const positions = Float64Array.of(0.1, 1 / 3, 1e-17, Math.PI, 100.00000000000001, -0);
  const cloud = await readCloud(writePly({ kind: 'cloud', positions, normals: Float64Array.of(0, 0, 2, 3, 4, 0) }));
  expect(Array.from(new Uint8Array(cloud.positions.buffer))).toEqual(Array.from(new Uint8Array(positions.buffer)));
  expect(Array.from(cloud.normals ?? [])).toEqual([0, 0, 1, 0.6, 0.8, 0]);
});

test('PLY normals without direction are not used', async () => {
  const bytes = writePly({ kind: 'cloud', positions: Float64Array.of(0, 0, 0, 9, 9, 9), normals: new Float64Array(6) });
  const { shape, warnings } = await read(bytes);
  expect(shape.kind === 'cloud' && shape.normals).toBeUndefined();
  expect(warnings[0].code).toBe('load/normals-unusable');
});

test('PLY text with a quadrangle and a skipped element', async () => {
  const text = `ply\nformat ascii 1.0\nelement camera 1\nproperty float f\nelement vertex 4\nproperty float x\nproperty float y
property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n1.5\n0 0 0\n9 0 0\n9 9 0\n0 9 0\n4 0 1 2 3\n`;
  expect(Array.from((await readMesh(text)).triangles)).toEqual([0, 1, 2, 0, 2, 3]);
});

test('OBJ: slashes, negative indices, polygons, comments', async () => {
  const text = `# units: inch\nmtllib a.mtl\nv 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nvt 0 0\nvn 0 0 1\ng a\nf 1/1/1 2//1 3/1 4\nf -4 -2 -1\n`;
  const { shape, unit, unitStated } = await read(text);
  expect(shape.kind === 'mesh' && Array.from(shape.triangles)).toEqual([0, 1, 2, 0, 2, 3, 0, 2, 3]);
  expect(shape.kind === 'mesh' && shape.positions[3]).toBe(25.4);
  expect([unit, unitStated]).toEqual(['inch', true]);
});

test('OBJ without faces is a cloud', async () => {
  expect((await readCloud('v 0 0 1\nv 1 2 3\nv 4 5 9.5\n')).positions).toEqual(
    Float64Array.of(0, 0, 1, 1, 2, 3, 4, 5, 9.5),
  );
});

test('the unit in a PLY comment and in an STL header', async () => {
  const inch = await read(writePly(TETRAHEDRON, { comments: ['units inch'] }));
  expect(inch.box.max).toEqual([254, 20.5 * 25.4, 30.25 * 25.4]);
  expect((await read(writeStl(TETRAHEDRON, 'UNITS=mm'))).unitStated).toBe(true);
  expect((await read(writeStl(TETRAHEDRON, 'part'))).unitStated).toBe(false);
});

test.each([
  ['STL text: facet of 2 vertices', stlText(TETRAHEDRON).replace(/ {6}vertex.*\n/, ''), 'load/column-count', 'line 7'],
  ['STL text: word for a number', stlText(TETRAHEDRON).replace('20.5', 'abc'), 'load/not-a-number', 'line 5, column 3'],
  ['STL text: NaN', stlText(TETRAHEDRON).replace('20.5', 'NaN'), 'load/not-a-number', 'line 5, column 3'],
  ['STL text: decimal comma', stlText(TETRAHEDRON).replace('20.5', '20,5'), 'load/not-a-number', 'line 5, column 3'],
  ['STL text: strange line', stlText(TETRAHEDRON).replace('endloop', 'endlop'), 'load/format-unknown', 'line 7'],
  ['STL text: no facets', 'solid a\nendsolid a\n', 'load/no-points', null],
  ['PLY text: row too short', plyText(TETRAHEDRON).replace('10 0 0', '10 0'), 'load/column-count', 'line 11'],
  ['PLY text: NaN vertex', plyText(TETRAHEDRON).replace('20.5', 'nan'), 'load/not-a-number', 'line 12, column 2'],
  ['PLY text: index', plyText(TETRAHEDRON).replace('3 1 2 3', '3 1 2 4'), 'load/face-index', 'line 16'],
  ['PLY text: rows missing', plyText(TETRAHEDRON).replace('3 1 2 3\n', ''), 'load/truncated', 'end of file'],
  ['PLY text: count', plyText(TETRAHEDRON).replace('vertex 4', 'vertex 4000000'), 'load/absurd-count', 'header'],
  ['PLY: no end_header', 'ply\nformat ascii 1.0\nelement vertex 1\n', 'load/truncated', 'byte 38'],
  ['PLY: no z', plyText(TETRAHEDRON).replace('double z', 'double w'), 'load/format-unknown', null],
  [
    'PLY: strange header line',
    plyText(TETRAHEDRON).replace('property double x', 'propery x'),
    'load/format-unknown',
    'line 4',
  ],
  [
    'PLY: no vertices',
    'ply\nformat ascii 1.0\nelement vertex 0\nproperty float x\nproperty float y\nproperty float z\nend_header\n',
    'load/no-points',
    null,
  ],
  ['OBJ: index', objText(TETRAHEDRON).replace('f 2 3 4', 'f 2 3 5'), 'load/face-index', 'line 9'],
  ['OBJ: index 0', objText(TETRAHEDRON).replace('f 2 3 4', 'f 2 3 0'), 'load/face-index', 'line 9'],
  ['OBJ: negative index', objText(TETRAHEDRON).replace('f 2 3 4', 'f 2 3 -5'), 'load/face-index', 'line 9'],
  ['OBJ: word', objText(TETRAHEDRON).replace('20.5', 'x'), 'load/not-a-number', 'line 5, column 3'],
  ['OBJ: two coordinates', objText(TETRAHEDRON).replace('v 10 0 0', 'v 10 0'), 'load/column-count', 'line 4'],
  ['OBJ: NaN vertex', objText(TETRAHEDRON).replace('20.5', 'nan'), 'load/not-a-number', 'line 5'],
])('refused: %s', async (_, text, code, place) => {
  for (const chunk of [undefined, 1]) {
    const error = await failure(text, {}, chunk);
    expect([error.code, error.where]).toEqual([code, place === null ? 'file' : `file, ${place}`]);
    expect(error.remedy.length).toBeGreaterThan(10);
  }
});

function patched(bytes: Uint8Array, patch: (view: DataView) => void): Uint8Array {
  const copy = bytes.slice();
  patch(new DataView(copy.buffer));
  return copy;
}

test.each([
  [
    'STL: NaN corner',
    patched(writeStl(TETRAHEDRON), (v) => v.setFloat32(84 + 50 + 12, Number.NaN, true)),
    'load/non-finite',
  ],
  ['STL: absurd count', patched(writeStl(TETRAHEDRON), (v) => v.setUint32(80, 4e9, true)), 'load/absurd-count'],
  ['STL: count too small', patched(writeStl(TETRAHEDRON), (v) => v.setUint32(80, 2, true)), 'load/absurd-count'],
  ['STL: count 0', writeStl({ ...TETRAHEDRON, triangles: new Uint32Array(0) }), 'load/no-points'],
  ['PLY: index beyond', writePly({ ...TETRAHEDRON, triangles: Uint32Array.of(0, 1, 9) }), 'load/face-index'],
  [
    'PLY: NaN vertex',
    writePly({ ...TETRAHEDRON, positions: new Float64Array(12).fill(Number.NaN) }),
    'load/non-finite',
  ],
  [
    'PLY cloud: all NaN',
    writePly({ kind: 'cloud', positions: new Float64Array(30).fill(Number.NaN) }),
    'load/all-non-finite',
  ],
  [
    'PLY cloud: 10 % NaN',
    writePly({ kind: 'cloud', positions: Float64Array.of(Number.NaN, ...new Float64Array(29)) }),
    'load/non-finite',
  ],
  ['empty', new Uint8Array(0), 'load/empty'],
  [
    'a picture',
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, ...new Uint8Array(200).fill(3)),
    'load/format-unknown',
  ],
  ['zeros', new Uint8Array(50), 'load/format-unknown'],
])('refused binary: %s', async (_, bytes, code) => {
  for (const chunk of [undefined, 1]) expect((await failure(bytes, {}, chunk)).code).toBe(code);
});
