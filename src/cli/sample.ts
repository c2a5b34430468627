import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Command } from './command.ts';
import { refuseForeign, writeFiles } from './write-files.ts';

const OPTIONS = {
  force: { type: 'boolean', default: false, describe: 'Write over files that differ' },
} as const;

const digest = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

/** `sample DIR`: writes the demonstration data. */
export const sampleCommand: Command = {
  name: 'sample',
  options: OPTIONS,
  add: (cli, run) =>
    cli.command(
      'sample <dir>',
      'Write the demonstration data',
      (y) =>
        y
          .positional('dir', { type: 'string', demandOption: true, describe: 'Folder to write to' })
          .options(OPTIONS)
          .example('$0 sample demo', 'A blade, its scan, a blank and a plan in the folder demo'),
      (argv) =>
        run(argv, async ({ talk, context }) => {
          const { sampleSet } = await import('../../samples/generate.ts');
          const folder = resolve(argv.dir);
          const files = sampleSet();
          const same = (path: string) => {
            const own = files.find(({ name }) => join(folder, name) === path);
            return own !== undefined && digest(readFileSync(path)) === digest(own.bytes);
          };
          refuseForeign(
            folder,
            files.map(({ name }) => name),
            argv.force,
            same,
          );
          const content = files.map(({ name, bytes }) => ({ name, content: bytes }));
          const paths = await writeFiles(folder, content, context);
          if (talk.json) talk.print(JSON.stringify({ folder, files: paths }, null, 1));
          else {
            talk.print(`${files.length} files written to ${folder}.`);
            for (const { name, about } of files) talk.print(`  ${name.padEnd(24)}${about}`);
          }
          const [nominal, measured, plan] = ['nominal-sections.csv', 'finished-scan.ply', 'plan.json'].map((name) =>
            join(argv.dir, name),
          );
          talk.note(`Next: camberwright inspect ${nominal} ${measured} --plan ${plan}`);
          return 0;
        }),
    ),
};
