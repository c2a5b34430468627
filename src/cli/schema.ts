import { planJsonSchema, resultsJsonSchema } from '../report/results-schema.ts';
import type { Command } from './command.ts';
import { oneOf } from './options.ts';

const SCHEMAS = { results: resultsJsonSchema, plan: planJsonSchema };

/** `schema NAME`: prints the JSON Schema of the results document or of the plan. */
export const schemaCommand: Command = {
  name: 'schema',
  options: {},
  add: (cli, run) =>
    cli.command(
      'schema <name>',
      'Print the JSON Schema of a document',
      (y) =>
        y
          .positional('name', { type: 'string', demandOption: true, describe: 'results or plan' })
          .example('$0 schema plan', 'What a plan may hold'),
      (argv) =>
        run(argv, async ({ talk }) => {
          const name = oneOf('schema <name>', argv.name, Object.keys(SCHEMAS) as (keyof typeof SCHEMAS)[]);
          talk.print(JSON.stringify(SCHEMAS[name](), null, 1));
          return 0;
        }),
    ),
};
