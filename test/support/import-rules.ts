/** Stages of the computation in order; a stage may import those before it. */
export const STAGES = [
  'model',
  'math',
  'spatial',
  'load',
  'place',
  'relate',
  'section',
  'fit',
  'probe',
  'measure',
  'judge',
  'stock',
  'report',
  'worker',
  'cli',
];

/**
 * Files directly under src/ sequence the stages: they stand between report and worker. error.ts stands before all,
 * index.ts, the public door, after the worker.
 */
const TOP_RANK = STAGES.indexOf('report') + 0.5;
const TOP_RANKS: Record<string, number> = { 'error.ts': -0.5, 'index.ts': STAGES.indexOf('worker') + 0.5 };

/** Packages and who may import them: the beginnings of paths. */
const PACKAGES: [RegExp, string[]][] = [
  [/^node:/, ['src/cli/', 'test/']],
  [/^(three|camera-controls)(\/|$)/, ['components/', 'test/']],
  [/^(lit|@lit)(\/|$)/, ['components/', 'test/']],
  [/^comlink$/, ['components/', 'src/worker/']],
  [/^d3-/, ['components/', 'src/report/']],
  [/^yargs/, ['src/cli/']],
  [/^highs$/, ['src/place/', 'test/']],
  [/^three-mesh-bvh$/, ['test/']],
  [/^(vitest|playwright|fast-check|axe-core)/, ['test/']],
];

/** Who may import what of the top folders; `src/` within itself goes by stages. */
const FOLDERS: Record<string, string[]> = {
  'components/': ['components/', 'src/'],
  'samples/': ['samples/', 'src/model/', 'src/math/', 'src/load/', 'src/spatial/', 'src/error.ts'],
};

function rank(path: string): number | null {
  const first = path.split('/')[1];
  if (first.endsWith('.ts')) return TOP_RANKS[first] ?? TOP_RANK;
  const stage = STAGES.indexOf(first);
  return stage < 0 ? null : stage;
}

/** Specifiers a file imports or re-exports, statically or not. */
export function importsOf(text: string): string[] {
  const code = text.replace(/^\s*(\/\/|\*|\/\*).*$/gm, '');
  const found = code.matchAll(/(?:\bfrom\s*|\bimport\s*\(?\s*|\bnew URL\(\s*(?='[^']*\.ts'))'([^']+)'/g);
  return [...found].map((match) => match[1]);
}

/** Path a relative specifier leads to, from the top of the project. */
export function targetOf(path: string, specifier: string): string {
  return new URL(specifier, `file:///${path}`).pathname.slice(1);
}

function relativeFault(path: string, target: string): string | null {
  if (path.startsWith('src/')) {
    if (target.startsWith('samples/') && /^src\/(worker|cli)\//.test(path)) return null;
    if (target === 'package.json') return null;
    if (!target.startsWith('src/')) return 'src/ imports src/ only';
    const [from, to] = [rank(path), rank(target)];
    if (from === null || to === null) return 'not a stage';
    return to <= from ? null : 'a later stage';
  }
  const folder = Object.keys(FOLDERS).find((start) => path.startsWith(start));
  if (folder === undefined || FOLDERS[folder].some((start) => target.startsWith(start))) return null;
  return `${folder} may not import this`;
}

/** What is wrong with one import of a file, null when nothing is. */
export function importFault(path: string, specifier: string): string | null {
  if (specifier.startsWith('.')) {
    if (!/\.(ts|js|mjs|json|css)(\?[a-z&]+)?$/.test(specifier)) return 'a relative import ends in its file ending';
    return relativeFault(path, targetOf(path, specifier));
  }
  const rule = PACKAGES.find(([pattern]) => pattern.test(specifier));
  if (rule === undefined || rule[1].some((start) => path.startsWith(start))) return null;
  return `only under ${rule[1].join(', ')}`;
}
