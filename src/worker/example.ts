import { sampleSet } from '../../samples/generate.ts';
import type { SampleFile, SampleReply, Truth } from './messages.ts';

type Roles = Readonly<Record<string, SampleFile['role']>>;

/** Files of the demonstration set that make one job, and their place in it. */
const ROLES: Record<'finished' | 'blank', Roles> = {
  finished: { 'nominal-sections.csv': 'nominal', 'finished-scan.ply': 'measured', 'plan.json': 'plan' },
  blank: { 'nominal-sections.csv': 'nominal', 'blank-shift.ply': 'measured', 'plan.json': 'plan' },
};

/** Planted values shown beside the results: path in a section, its name, and the section. */
const SHOWN: [string, string, string][] = [
  ['chordFar', 'Chord', 'S11'],
  ['thicknessMax', 'Largest thickness', 'S11'],
  ['leadingEdge.radiusFit', 'Leading edge radius', 'S05'],
  ['leadingEdge.radiusFit', 'Leading edge radius', 'S15'],
  ['trailingEdge.radiusFit', 'Trailing edge radius', 'S11'],
];

interface ExpectedFile {
  bow: number;
  sections: { id: string; height: number; measured: Record<string, unknown> }[];
  faults: { kind: string; height: number; depth: number }[];
}

/** The example's files and the exact values planted in them, so that the tool can be checked before it is trusted. */
export function exampleFiles(part: 'finished' | 'blank'): SampleReply {
  const set = sampleSet({ only: [...Object.keys(ROLES[part]), 'expected.json'] });
  const files = set.flatMap(({ name, bytes }) => {
    const role = ROLES[part][name];
    return role ? [{ role, name, bytes }] : [];
  });
  if (part === 'blank') return { files, truths: [] };
  const planted = set.find((file) => file.name === 'expected.json')!;
  const expected = JSON.parse(new TextDecoder().decode(planted.bytes)) as ExpectedFile;
  const truths: Truth[] = SHOWN.flatMap(([of, name, id]) => {
    const section = expected.sections.find((s) => s.id === id);
    const value = section ? numberAt(section.measured, of) : null;
    return section && value !== null ? [{ of, name, height: section.height, value, unit: 'mm' }] : [];
  });
  const nicks = expected.faults.map(({ kind, height, depth }): Truth => {
    return { of: kind, name: 'Depth of a nick', height, value: depth, unit: 'mm' };
  });
  const bow: Truth = { of: 'bow', name: 'Bow', height: null, value: expected.bow, unit: 'mm' };
  return { files, truths: [...truths, ...nicks, bow] };
}

function numberAt(record: unknown, path: string): number | null {
  let at = record;
  for (const key of path.split('.')) at = (at as Record<string, unknown> | undefined)?.[key];
  return typeof at === 'number' ? at : null;
}
