import * as v from 'valibot';
import { CamberwrightError } from '../error.ts';
import { type Plan, planSchema } from '../model/plan.ts';
import { jsonFault } from './json-fault.ts';
import { nearestWord } from './nearest-word.ts';
import { checkPlan } from './plan-checks.ts';

/**
 * The plan in a JSON text, checked.
 * @param name file name, for messages
 * @throws plan/syntax with line and column, plan/unknown-key with the nearest known key, plan/value with the path
 */
export function readPlan(text: string, name: string): Plan {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const fault = jsonFault(body);
  if (fault)
    throw new CamberwrightError('plan/syntax', `The plan is not JSON: wanted ${fault.wanted}, found ${fault.found}.`, {
      where: `${name}, line ${fault.line}, column ${fault.column}`,
      remedy: 'Mend the file at this place.',
    });
  return planOf(JSON.parse(body), name);
}

/** The plan in a record, checked as by `readPlan`. */
export function planOf(record: unknown, name: string): Plan {
  const parsed = v.safeParse(planSchema, record);
  if (!parsed.success) throw issueError(unknownFirst(parsed.issues), name);
  checkPlan(parsed.output, name);
  return parsed.output;
}

type Issue = v.InferIssue<typeof planSchema>;

const isUnknownKey = (issue: Issue) => issue.type === 'strict_object' && issue.expected === 'never';

/** A misspelt key often also makes a wanted key missing; the misspelt one is the cause. */
function unknownFirst(issues: readonly Issue[]): Issue {
  return issues.find(isUnknownKey) ?? issues[0];
}

function issueError(issue: Issue, name: string): CamberwrightError {
  const keys = (issue.path ?? []).map((item) => item.key as string | number);
  if (isUnknownKey(issue)) {
    const key = String(keys.at(-1));
    const nearest = nearestWord(key, knownKeys(keys.slice(0, -1)));
    return new CamberwrightError('plan/unknown-key', `The plan has an unknown key "${key}".`, {
      where: `${name}, ${pathText(keys)}`,
      remedy: nearest ? `Did you mean "${nearest}"?` : 'Take the key out.',
    });
  }
  const found = issue.input === undefined ? 'nothing' : JSON.stringify(issue.input);
  return new CamberwrightError('plan/value', `${pathText(keys)}: wanted ${wantedText(issue)}, found ${found}.`, {
    where: `${name}, ${pathText(keys)}`,
    remedy: 'Give the value as the plan schema says.',
  });
}

function wantedText(issue: Issue): string {
  if (issue.type === 'strict_object' && issue.input === undefined) return 'this key';
  return issue.expected ?? 'another value';
}

/** Path as written in messages, such as `characteristics[2].lower`. */
export function pathText(keys: readonly (string | number)[]): string {
  const text = keys.map((key) => (typeof key === 'number' ? `[${key}]` : `.${key}`)).join('');
  return text === '' ? 'the plan' : text.replace(/^\./, '');
}

interface SchemaShape {
  type: string;
  entries?: Record<string, SchemaShape>;
  item?: SchemaShape;
  wrapped?: SchemaShape;
}

/** Keys the plan schema knows at a path. */
function knownKeys(path: readonly (string | number)[]): string[] {
  const bare = (schema: SchemaShape): SchemaShape => (schema.wrapped ? bare(schema.wrapped) : schema);
  let schema = bare(planSchema as unknown as SchemaShape);
  for (const key of path) {
    const next = typeof key === 'number' ? schema.item : schema.entries?.[key];
    if (!next) return [];
    schema = bare(next);
  }
  return Object.keys(schema.entries ?? {});
}
