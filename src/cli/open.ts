import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { CamberwrightError } from '../error.ts';
import type { Command } from './command.ts';
import { fileSource } from './file-source.ts';
import { UNIT_OPTION, unitOf } from './options.ts';
import { type ServedFile, serveApp } from './serve-app.ts';
import { counted } from './shape-text.ts';

const OPTIONS = {
  ...UNIT_OPTION,
  plan: { type: 'string', describe: 'Plan to open with the files' },
  port: { type: 'number', default: 0, describe: 'Port to serve on; 0 takes a free one' },
  browser: { type: 'boolean', default: false, describe: 'Also open the address in the browser of this computer' },
} as const;

/** `open [FILES]`: serves the app on loopback until Ctrl-C, with the files open in it. */
export const openCommand: Command = {
  name: 'open',
  options: OPTIONS,
  add: (cli, run) =>
    cli.command(
      'open [files..]',
      'Serve the app on this computer only, with files open in it',
      (y) =>
        y
          .positional('files', { type: 'string', array: true, default: [], describe: 'Nominal first, then measured' })
          .options(OPTIONS)
          .example('$0 open blade.csv scan.ply --plan plan.json', 'The app with one part open'),
      (argv) =>
        run(argv, async ({ talk, context }) => {
          const unit = unitOf('--unit', argv.unit);
          const { session, files } = await sessionOf(argv.files, argv.plan, unit);
          const app = await serveApp(builtApp(), session, files, argv.port);
          if (talk.json) talk.print(JSON.stringify({ url: app.url, files: files.map(({ path }) => path) }, null, 1));
          else talk.print(`The app is at ${app.url} with ${counted(files.length, 'file')} open.`);
          talk.note('It answers on this computer only. Ctrl-C ends it.');
          if (argv.browser) openBrowser(app.url);
          const { signal } = context;
          await new Promise<void>((done) => {
            if (signal?.aborted) done();
            signal?.addEventListener('abort', () => done(), { once: true });
          });
          await app.close();
          return 0;
        }),
    ),
};

/** Session record for the page and the files it names; null when there is nothing to open. */
async function sessionOf(
  paths: readonly string[],
  plan: string | undefined,
  unit: string | undefined,
): Promise<{ session: object | null; files: ServedFile[] }> {
  const files: ServedFile[] = [];
  for (const path of [...paths, ...(plan === undefined ? [] : [plan])]) {
    await fileSource(path);
    files.push({ address: `session/${files.length}/${basename(path)}`, path: resolve(path) });
  }
  if (paths.length === 0) {
    if (plan === undefined) return { session: null, files };
    throw new CamberwrightError('usage/arguments', 'A plan alone cannot be opened.', {
      where: plan,
      remedy: 'Name the nominal and the measured files before it.',
    });
  }
  const addresses = files.map(({ address }) => address.split('/').map(encodeURIComponent).join('/'));
  const units = unit === undefined ? {} : { unitNominal: unit, unitMeasured: unit };
  return {
    session: {
      nominal: addresses[0],
      measured: addresses.slice(1, paths.length),
      ...(plan === undefined ? {} : { plan: addresses[paths.length] }),
      ...units,
    },
    files,
  };
}

/** Folder of the built app, beside the built command line. @throws `fault/no-app` */
function builtApp(): string {
  const found = ['../app/', '../../app/']
    .map((path) => fileURLToPath(new URL(path, import.meta.url)))
    .find((folder) => existsSync(`${folder}index.html`));
  if (found !== undefined) return found;
  throw new CamberwrightError('fault/no-app', 'The app has not been built.', { remedy: 'Run npm run build.' });
}

function openBrowser(url: string): void {
  const [program, ...args] =
    process.platform === 'darwin' ? ['open'] : process.platform === 'win32' ? ['cmd', '/c', 'start', ''] : ['xdg-open'];
  spawn(program, [...args, url], { stdio: 'ignore', detached: true })
    .on('error', () => {})
    .unref();
}
