import type { EdgeKind } from '../../src/measure/edge-class.ts';
import { table } from '../bench/rounds.ts';
import type { ReferenceName } from '../support/reference-sections.ts';
import { EDGE_FORMS, type EdgeFinding, type EdgeName, type EdgeTask, KIND_OF_FORM } from './edge-kinds.ts';
import { inWorkers } from './in-workers.ts';
import type { Outcome, Part } from './part.ts';

/** Form classes of edges, whole sections given. What is promised of each form on each edge, from this many seeds on: */
const EDGE_LIMITS = { leastSeeds: 100, rightShare: 0.99 } as const;

const CHANGE = 0.02;
const NOISE = 0.005;
const FIRST_SEED = 1;
const PLACES: [ReferenceName, EdgeName][] = [
  ['round', 'leading'],
  ['round', 'trailing'],
  ['turbine', 'leading'],
  ['turbine', 'trailing'],
];

export const edgesPart: Part = { count: 200, of: 'seeds', run: runEdges };

/** Seeds a task of edges given as departures; such an edge takes a hundredth of the time of a section. */
const STRETCH = 50;

async function runEdges(seeds: number): Promise<Outcome> {
  const alone = await edgesAlone(seeds);
  const whole = await wholeSections(seeds);
  return { ...whole, lines: [...alone.lines, '', ...whole.lines], broken: [...alone.broken, ...whole.broken] };
}

/** Edges given as departures from a circle, each change of size or form: how many are told wrong. */
async function edgesAlone(seeds: number): Promise<Pick<Outcome, 'lines' | 'broken'>> {
  const tasks: { from: number; count: number }[] = [];
  for (let done = 0; done < seeds; done += STRETCH)
    tasks.push({ from: FIRST_SEED + done, count: Math.min(STRETCH, seeds - done) });
  const wrong = new Map<string, number>();
  for (const part of await inWorkers('edge classes', tasks))
    for (const [change, found] of part) wrong.set(change, (wrong.get(change) ?? 0) + found.wrong);
  const rows = [...wrong].map(([change, count]) => ({ change, count, right: 1 - count / seeds }));
  return {
    lines: [
      `edges alone, ${seeds} seeds each`,
      table([
        ['class: change', 'wrong', 'right, %'],
        ...rows.map(({ change, count, right }) => [change, String(count), (100 * right).toFixed(1)]),
      ]),
    ],
    broken: brokenOf(
      rows.map(({ change, right }) => ({ name: change, right })),
      seeds,
    ),
  };
}

function brokenOf(rows: { name: string; right: number }[], seeds: number): string[] {
  return rows
    .filter(({ right }) => seeds >= EDGE_LIMITS.leastSeeds && right < EDGE_LIMITS.rightShare)
    .map(({ name, right }) => `${name}: ${(100 * right).toFixed(1)} % told right`);
}

/** Edges of whole sections, moved, against the exact section. */
async function wholeSections(seeds: number): Promise<Outcome> {
  const tasks = PLACES.flatMap(([name, edge]) =>
    EDGE_FORMS.map(
      (form): EdgeTask => ({ name, edge, form, change: CHANGE, noise: NOISE, from: FIRST_SEED, count: seeds }),
    ),
  );
  const found = await inWorkers('edges', tasks);
  const kinds = [...new Set([...Object.values(KIND_OF_FORM), ...found.flat().map(({ kind }) => kind)])];
  const told = kinds.filter((kind) => kind !== null);
  const rows = tasks.map((task, k) => rowOf(task, found[k], told));
  const head = ['edge, form', ...told, 'not told', 'right, %', 'mean size, um', '±2u, %'];
  const broken = brokenOf(
    rows.map(({ cells, right }) => ({ name: cells[0], right })),
    seeds,
  );
  const share = (form: string) => {
    const own = rows.filter((_, k) => tasks[k].form === form);
    return (100 * own.reduce((sum, { right }) => sum + right, 0)) / own.length;
  };
  return {
    lines: [
      `form classes, ${1000 * CHANGE} um change of form, ${1000 * NOISE} um noise, seeds ${FIRST_SEED} to ${FIRST_SEED + seeds - 1}`,
      table([head, ...rows.map(({ cells }) => cells)]),
    ],
    broken,
    summary: {
      title:
        `Form of an edge (radius 0.19 to 1.23 mm) changed by ${1000 * CHANGE} µm, ${1000 * NOISE} µm noise, ` +
        `${seeds} seeds on each of ${PLACES.length} edges:`,
      head: ['form', ...EDGE_FORMS],
      rows: [['told right', ...EDGE_FORMS.map((form) => `${share(form).toFixed(1)} %`)]],
    },
  };
}

function rowOf(
  { name, edge, form }: EdgeTask,
  found: readonly EdgeFinding[],
  kinds: readonly EdgeKind[],
): { cells: string[]; right: number } {
  const count = (kind: EdgeKind | null) => found.filter((each) => each.kind === kind).length;
  const right = count(KIND_OF_FORM[form]) / found.length;
  const told = found.filter((each) => each.kind === KIND_OF_FORM[form] && each.amplitude !== null);
  const sized = form === 'unchanged' ? [] : told;
  const mean = sized.reduce((sum, { amplitude }) => sum + (amplitude ?? 0), 0) / sized.length;
  const within = sized.filter(({ amplitude, u }) => Math.abs((amplitude ?? 0) - CHANGE) <= 2 * (u ?? 0)).length;
  const cells = [
    `${name} ${edge}, ${form}`,
    ...[...kinds, null].map((kind) => String(count(kind))),
    (100 * right).toFixed(1),
    sized.length > 0 ? (1000 * mean).toFixed(2) : '',
    sized.length > 0 ? ((100 * within) / sized.length).toFixed(0) : '',
  ];
  return { cells, right };
}
