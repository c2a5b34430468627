import { catalogueEntry } from '../judge/catalogue.ts';
import type { DefinitionInfo } from '../judge/definition-info.ts';
import { definitionsByPath } from '../judge/definitions-by-path.ts';
import { unitText } from '../report/format-number.ts';
import type { Command } from './command.ts';
import { oneOf } from './options.ts';

/** One line of a parameter: name, meaning, default and what it may be. */
function parameterText(spec: DefinitionInfo['parameters'][number]): string {
  if ('choices' in spec) return `${spec.name} = ${spec.default}: ${spec.label}; one of ${spec.choices.join(', ')}`;
  const unit = unitText(spec.unit);
  return `${spec.name} = ${spec.default}: ${spec.label}; ${spec.least} to ${spec.most} ${unit}`.trimEnd();
}

function quantityText(of: string, definitions: readonly DefinitionInfo[]): string {
  const lines = definitions.flatMap(({ id, name, meaning, parameters }, i) => [
    `  ${id}${i === 0 ? ' (own)' : ''}: ${name}. ${meaning}`,
    ...parameters.map((spec) => `      ${parameterText(spec)}`),
  ]);
  return [`${of}: ${catalogueEntry(of)?.name}`, ...lines].join('\n');
}

/** `definitions [of]`: what a quantity may be measured by; without a quantity, the ids of all. */
export const definitionsCommand: Command = {
  name: 'definitions',
  options: {},
  add: (cli, run) =>
    cli.command(
      'definitions [of]',
      'List the definitions that quantities may be measured by',
      (y) =>
        y
          .positional('of', { type: 'string', describe: 'Quantity as in a plan; all when left out' })
          .example('$0 definitions leadingEdge.radius', 'Definitions of the edge radius with their parameters')
          .example('$0 definitions --json', 'Everything as one document'),
      (argv) =>
        run(argv, async ({ talk }) => {
          const byOf = definitionsByPath();
          const known = Object.keys(byOf);
          const of = argv.of === undefined ? null : oneOf('definitions <of>', argv.of, known);
          if (talk.json) talk.print(JSON.stringify(of === null ? byOf : { [of]: byOf[of] }, null, 1));
          else if (of !== null) talk.print(quantityText(of, byOf[of]));
          else talk.print(known.map((path) => `${path}: ${byOf[path].map(({ id }) => id).join(', ')}`).join('\n'));
          return 0;
        }),
    ),
};
