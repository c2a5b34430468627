import { expect, test } from 'vitest';
import { ellipse, failure, read, readCloud, readSections } from './read.ts';

const loop = ellipse(60);
const rowsOf = (id: string, z: number, points = loop, more = ''): string =>
  points.map(([x, y]) => `${id},${z},${x},${y}${more}`).join('\n');
const table = (comments: string): string => `${comments}\nsection,z,x,y\n${rowsOf('a', 10)}\n${rowsOf('b', 20)}\n`;

test.each([
  ['# points: ball centres\n# tip radius: 1 mm', { points: 'centres', tipRadius: 1 }],
  ['# Points: ball centers\n# Tip diameter = 3', { points: 'centres', tipRadius: 1.5 }],
  ['# points: compensated\n# stylus radius 0.5 mm', { points: 'compensated', tipRadius: 0.5 }],
  ['# probe points: not compensated', { points: 'centres' }],
  ['# unit: inch\n# tip radius: 0.02', { tipRadius: 0.508 }],
  ['# unit: inch\n# tip radius: 1 mm', { tipRadius: 1 }],
])('%j says %j', async (comments, wanted) => {
  const { probe } = await read(table(comments));
  expect(probe?.points).toBe('points' in wanted ? wanted.points : undefined);
  if ('tipRadius' in wanted) expect(probe?.tipRadius).toBeCloseTo(wanted.tipRadius, 12);
  else expect(probe?.tipRadius).toBeUndefined();
});

test('a file that says nothing of a probe carries no statement', async () => {
  expect((await read(table('# points: 60\n# made by hand'))).probe).toBeUndefined();
});

test('two different statements are refused', async () => {
  expect(await failure(table('# tip radius: 1 mm\n# tip radius: 2 mm'))).toMatchObject({ code: 'load/probe-conflict' });
  const both = '# points: centres\n# points: compensated';
  expect(await failure(table(both))).toMatchObject({ code: 'load/probe-conflict' });
  expect(await failure(table('# tip radius: 1 m'))).toMatchObject({ code: 'load/unit-unknown' });
});

test('vectors i, j, k come with the points, at length 1', async () => {
  const sections = (await readSections(`section,z,x,y,i,j,k\n${rowsOf('a', 10, loop, ',3,0,-4')}`)).sections;
  expect(Array.from(sections[0].vectors ?? []).slice(0, 3)).toEqual([0.6, 0, -0.8]);
  expect(sections[0].vectors).toHaveLength(3 * loop.length);
  const cloud = await readCloud(`x,y,z,i,j,k\n1,2,3,0,0,2\n4,5,6,0,-5,0`);
  expect(Array.from(cloud.normals ?? [])).toEqual([0, 0, 1, 0, -1, 0]);
});

const back = [...loop].reverse();
const other = rowsOf('b', 20);
test.each([
  ['a pass column', `section,z,x,y,pass\n${rowsOf('a', 10, loop, ',1')}\n${rowsOf('a', 10, back, ',2')}`],
  ['the same name again', `section,z,x,y\n${rowsOf('a', 10)}\n${other}\n${rowsOf('a', 10, back)}`],
  ['the same name again, no header', `${rowsOf('a', 10)}\n${other}\n${rowsOf('a', 10, back)}`],
  ['points that turn round', `section,z,x,y\n${rowsOf('a', 10, [...loop, ...back])}\n${other}`],
  ['points that go round twice', `section,z,x,y\n${rowsOf('a', 10, [...loop, ...loop])}\n${other}`],
])('two passes told apart by %s', async (_, text) => {
  const [first] = (await readSections(text)).sections;
  expect(first.again).toHaveLength(1);
  const total = first.points.length + (first.again?.[0].length ?? 0);
  // The turning point itself may be written once or twice.
  expect(Math.abs(total / 2 - 2 * loop.length)).toBeLessThanOrEqual(1);
  expect(Math.abs(first.points.length / 2 - loop.length)).toBeLessThanOrEqual(1);
});

test('two sides under one name stay one outline', async () => {
  const upper = loop.slice(0, 30);
  const lower = loop.slice(30);
  const text = `section,z,x,y\n${rowsOf('a', 10, upper)}\n${rowsOf('b', 20, upper)}\n${rowsOf('a', 10, lower)}\n${rowsOf('b', 20, lower)}`;
  for (const section of (await readSections(text)).sections) {
    expect(section.again).toBeUndefined();
    expect(section.points).toEqual(Float64Array.from(loop.flat()));
  }
});

test('passes are converted to millimetres with the rest', async () => {
  const text = `# unit: inch\nsection,z,x,y,pass\n${rowsOf('a', 1, loop, ',1')}\n${rowsOf('a', 1, back, ',2')}`;
  const [section] = (await readSections(text)).sections;
  expect(section.again?.[0][0]).toBeCloseTo(25.4 * back[0][0], 10);
});
