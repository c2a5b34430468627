import { describe, expect, it } from 'vitest';
import { planOf } from '../../src/judge/read-plan.ts';

const plan = (parts: object) => planOf({ schema: 'camberwright/plan', schemaVersion: 1, ...parts }, 'p.json');
const target = (id: string, normal = [0, 1, 0]) => ({ id, point: [0, 0, 0], normal });
const six = ['A', 'B', 'C', 'D', 'E', 'F'];

describe('parts of a plan that speak of blanks', () => {
  it('take what a drawing may say', () => {
    const given = plan({
      stock: {
        affectedLayer: 0.1,
        minimumChip: 0.05,
        most: 2,
        ranges: { x: [-1, 1] },
        zones: [{ name: 'a', side: 'all' }],
      },
      datumTargets: six.map((id) => target(id)),
      adapt: { form: 'ellipse', ratio: 3, setback: [0.5, 2], slope: 0.02 },
      offset: { moves: 'programme', order: 'RxRyRz' },
    });
    expect(given.stock?.ranges?.x).toEqual([-1, 1]);
  });

  const refused: [string, object, RegExp][] = [
    ['a negative layer', { stock: { affectedLayer: -0.1 } }, /stock\.affectedLayer/],
    ['a most below the least', { stock: { affectedLayer: 0.3, most: 0.2 } }, /stock\.most/],
    ['a range the wrong way round', { stock: { ranges: { rz: [2, -2] } } }, /stock\.ranges\.rz/],
    ['a zone without weight', { stock: { zones: [{ name: 'a', side: 'all', weight: 0 }] } }, /zones\[0\]\.weight/],
    [
      'two zones of one name',
      {
        stock: {
          zones: [
            { name: 'a', side: 'all' },
            { name: 'a', side: 'all' },
          ],
        },
      },
      /zones\[1\]\.name/,
    ],
    ['a zone upside down', { stock: { zones: [{ name: 'a', side: 'all', from: 3, to: 1 }] } }, /zones\[0\]\.from/],
    [
      'a normal without direction',
      { datumTargets: six.map((id) => target(id, [0, 0, 0])) },
      /datumTargets\[0\]\.normal/,
    ],
    ['two targets of one name', { datumTargets: six.map(() => target('A')) }, /datumTargets\[1\]\.id/],
    ['five targets', { datumTargets: six.slice(1).map((id) => target(id)) }, /datumTargets/],
    ['a ratio of nothing', { adapt: { ratio: 0 } }, /adapt\.ratio/],
    ['a set-back range the wrong way round', { adapt: { setback: [2, 1] } }, /adapt\.setback/],
  ];
  it.each(refused)('refuse %s with its place', (_what, parts, path) => {
    expect(() => plan(parts)).toThrow(
      expect.objectContaining({ code: 'plan/value', where: expect.stringMatching(path) }),
    );
  });
});
