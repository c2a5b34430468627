import type { ShareFigures } from '../support/share-figures.ts';
import { inWorkers } from './in-workers.ts';
import type { Outcome, Part } from './part.ts';

/** What the linear programmes may be behind the best placement the searches find (µm). */
const LIMIT = 2;
const FIELD = { rows: 7, columns: 40, searches: 3, steps: 400 };

/** Stock shared by linear programmes against the downhill simplex from many starts, on seeded warped blanks. */
export const shareStockPart: Part = { count: 100, of: 'blanks', run: runShareStock };

async function runShareStock(blanks: number): Promise<Outcome> {
  const tasks = Array.from({ length: blanks }, (_, k) => ({ seed: k + 1, ...FIELD }));
  const found = await inWorkers('share stock', tasks);
  const behind = found.map(({ shared, searched }) => 1000 * (searched - shared));
  const worst = behind.reduce((at, value, k) => (value > behind[at] ? k : at), 0);
  const late = found.filter((_, k) => behind[k] > LIMIT);
  const open = found.filter(({ converged }) => !converged);
  const row = [
    `${behind[worst].toFixed(3)} µm`,
    `${found.filter((_, k) => behind[k] < -LIMIT).length} of ${blanks}`,
    `${found.filter(({ shared }) => shared < 0).length} of ${blanks}`,
    `${Math.round(found.reduce((sum, { evaluations }) => sum + evaluations, 0) / blanks)}`,
    `${agreement(found).toFixed(2)} of 4`,
  ];
  return {
    lines: [
      `worst: ${row[0]} behind the search (blank ${found[worst].seed}); ahead of it by more than ${LIMIT} µm: ${row[1]}`,
      `short of stock: ${row[2]}; stock evaluated ${row[3]} times a blank; starts that agree: ${row[4]}`,
      `not converged: ${open.length === 0 ? 'none' : open.map(({ seed }) => seed).join(', ')}`,
    ],
    broken: late.map(({ seed, shared, searched }) => `blank ${seed}: ${shared} mm, the search finds ${searched} mm`),
    summary: {
      title: `Stock of ${blanks} warped blanks shared by linear programmes, against the downhill simplex from 4 starts:`,
      head: [
        'worst behind it',
        'ahead by more than 2 µm',
        'short of stock',
        'evaluations a blank',
        'starts that agree',
      ],
      rows: [row],
    },
  };
}

function agreement(found: ShareFigures[]): number {
  return found.reduce((sum, { agreeing }) => sum + agreeing, 0) / found.length;
}
