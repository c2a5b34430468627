import * as v from 'valibot';
import { CamberwrightError } from '../error.ts';
import { type Results, resultsSchema, SCHEMA_VERSION } from '../model/results.ts';

/**
 * The results document as JSON text: keys in the order of the schema, full double precision, `timing` last, one line
 * break at the end. Two runs on the same input differ in `timing` only.
 * @throws fault/results when the record breaks its own schema (a fault of the tool)
 */
export function resultsToJson(results: Results): string {
  const parsed = v.safeParse(resultsSchema, results);
  if (!parsed.success) {
    const issue = parsed.issues[0];
    throw new CamberwrightError('fault/results', `The results break their schema: ${issue.message}`, {
      where: v.getDotPath(issue) ?? 'results',
      remedy: 'Report this with the input; the results are not to be used.',
    });
  }
  return `${JSON.stringify(parsed.output, null, 1)}\n`;
}

/**
 * The results in a JSON text.
 * @throws load/results when it is not a results document of a known version
 */
export function resultsFromJson(text: string, name: string): Results {
  let record: unknown;
  try {
    record = JSON.parse(text);
  } catch (cause) {
    throw new CamberwrightError('load/results', 'The file is not JSON.', {
      where: name,
      remedy: 'Choose a results file.',
      cause,
    });
  }
  const { schema, schemaVersion } = (record ?? {}) as { schema?: unknown; schemaVersion?: unknown };
  if (schema !== 'camberwright/results')
    throw new CamberwrightError('load/results', 'The file is not a results document.', {
      where: name,
      remedy: 'Choose a results file.',
    });
  if (typeof schemaVersion === 'number' && schemaVersion > SCHEMA_VERSION)
    throw new CamberwrightError(
      'load/results',
      `The results are of version ${schemaVersion}; this program knows ${SCHEMA_VERSION}.`,
      {
        where: name,
        remedy: 'Open it with a newer program. The file is left as it is.',
      },
    );
  const parsed = v.safeParse(resultsSchema, record);
  if (parsed.success) return parsed.output;
  throw new CamberwrightError('load/results', `The results are damaged: ${parsed.issues[0].message}`, {
    where: `${name}, ${v.getDotPath(parsed.issues[0]) ?? 'top'}`,
    remedy: 'Make the results anew.',
  });
}
