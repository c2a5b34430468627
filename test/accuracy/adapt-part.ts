import type { AdaptFigures, AdaptTask } from '../support/adapt-figures.ts';
import { inWorkers } from './in-workers.ts';
import type { Outcome, Part } from './part.ts';

/** What is promised of blades adapted to near-net blanks (µm, degrees). */
const LIMITS = { chord: 10, thickness: 10, breakDeg: 0.1, span: 10 } as const;
const POINTS = 200_000;
const FORMS: readonly AdaptTask['form'][] = ['nominal', 'ellipse', 'conic', 'circle'];
/** Every fifth blank is hopeless, in turns by its leading edge and by its flanks. */
const HOPELESS = 5;

/** Edges built on seeded near-net blanks, every form in turn, the adapted surface measured as polygons. */
export const adaptPart: Part = { count: 50, of: 'blanks', run: runAdapt };

async function runAdapt(blanks: number): Promise<Outcome> {
  const tasks = Array.from({ length: blanks }, (_, k): AdaptTask => {
    const seed = k + 1;
    const lacks = seed % HOPELESS !== 0 ? 'nothing' : seed % (2 * HOPELESS) === 0 ? 'flank' : 'edge';
    return { seed, points: POINTS, form: FORMS[k % FORMS.length], lacks };
  });
  const found = await inWorkers('adapt', tasks);
  const hopeless = found.filter(({ lacks }) => lacks !== 'nothing');
  const good = found.filter(({ lacks }) => lacks === 'nothing');
  const made = good.filter(({ verdict }) => verdict === 'pass');
  const most = (pick: (figures: AdaptFigures) => number) => made.reduce((worst, one) => Math.max(worst, pick(one)), 0);
  const figures = {
    chord: 1000 * most(({ chord }) => chord),
    thickness: 1000 * most(({ thickness }) => thickness),
    breakDeg: most(({ breakDeg }) => breakDeg),
    span: 1000 * most(({ span }) => span),
  };
  const flank = 1000 * most(({ flank }) => flank);
  const falling = made.reduce((sum, { notMonotone }) => sum + notMonotone, 0);
  const wrong = hopeless.filter(({ verdict }) => verdict !== 'fail');
  const refused = good.filter(({ verdict }) => verdict !== 'pass');
  const rows: [string, string][] = [
    ['chord, on and between sections', `${figures.chord.toFixed(2)} µm`],
    ['edge thickness at 0.5 and 1 mm', `${figures.thickness.toFixed(2)} µm`],
    ['turn of the outline over 20 µm behind the edges', `${figures.breakDeg.toFixed(3)}°`],
    ['noses over the span, second difference over 6 mm', `${figures.span.toFixed(2)} µm`],
    ['kept flanks, root mean square', `${flank.toFixed(2)} µm`],
    ['edges whose curvature falls on the way to the nose', `${falling}`],
    ['hopeless blanks refused', `${hopeless.length - wrong.length} of ${hopeless.length}`],
    ['good blanks refused', `${refused.length} of ${good.length}`],
  ];
  const keys = Object.keys(LIMITS) as (keyof typeof LIMITS)[];
  return {
    lines: [
      ...rows.map(([what, value]) => `${what}: ${value}`),
      ...refused.map(({ seed, refusedReason }) => `blank ${seed}: ${refusedReason}`),
    ],
    broken: [
      ...keys.filter((key) => !(figures[key] <= LIMITS[key])).map((key) => `${key} ${figures[key].toFixed(3)}`),
      ...(falling > 0 ? [`curvature falls on ${falling} edges`] : []),
      ...wrong.map(({ seed }) => `hopeless blank ${seed} was not refused`),
      ...refused.map(({ seed }) => `blank ${seed} was refused`),
    ],
    summary: {
      title: `Edges built on ${blanks} near-net blanks of ${POINTS.toLocaleString('en')} points, 5 µm noise, largest errors against closed forms:`,
      head: ['what', 'found'],
      rows,
    },
  };
}
