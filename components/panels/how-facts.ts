import type { DecisionRule } from '../../src/judge/decide.ts';
import type { DefinitionInfo } from '../../src/judge/definition-info.ts';
import type { ParameterSpec } from '../../src/measure/definitions/definition.ts';
import type { Characteristic } from '../../src/model/results.ts';
import type { Parameters } from '../../src/model/value.ts';
import { formatU, percentText, withUnit } from '../../src/report/format-number.ts';
import { type DecimalMark, formatNumber, showResult } from '../controls/format.ts';
import { requirementText } from './table-rows.ts';

/** One line of how a number came about. */
export interface Fact {
  what: string;
  text: string;
}

/** One source of uncertainty: its U (k = 2) and its share of the squared whole. */
export interface BudgetLine {
  source: string;
  expanded: number;
  share: number;
}

/** Definitions of the whole part; there is nothing to choose of them in the app. */
const WHOLE_PART: Record<string, string> = {
  'BOW-END': 'Largest distance of the sections’ displacement from the line through the first and last section.',
  'BOW-LSQ': 'Largest distance of the sections’ displacement from its least-squares line over height.',
  'LEAN-LSQ': 'Slope over height of the displacement across the axis, by least squares.',
  'SWEEP-LSQ': 'Slope over height of the displacement along the axis, by least squares.',
  'UNTWIST-LSQ': 'Twist of the tip against the root by the least-squares line over height.',
  'PROFILE-V': 'Width the zone would need to hold the surface, if both its boundaries grew equally until they did.',
};

const SPECIFIC: Record<string, string> = {
  points: 'points used',
  rms: 'residual of the fit, rms',
  centreX: 'centre X',
  centreY: 'centre Y',
  fromDeg: 'normals fitted, from',
  toDeg: 'normals fitted, to',
  axisDeg: 'direction of the axis',
  a: 'half axis along',
  b: 'half axis across',
  raw: 'before noise was taken off',
  bias: 'taken off for noise',
};
const LENGTHS = /^[ab]$|rms|centre|radius|length|setback|width|[XY]$/i;

/** A name written as one word in a record, in words: "halfAngleDeg" becomes "half angle". */
export function plainWords(name: string): string {
  return name
    .replace(/Deg$/, '')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replace(/[-_]/g, ' ')
    .toLowerCase();
}

/** Parameters as text, in the order of the definition: "half angle 60°, fit all points". */
export function parametersText(
  parameters: Parameters,
  specs: readonly ParameterSpec[],
  mark: DecimalMark = '.',
): string {
  return Object.entries(parameters)
    .map(([name, value]) => {
      const spec = specs.find((one) => one.name === name);
      const label = spec?.label ?? plainWords(name);
      if (typeof value !== 'number') return `${label} ${plainWords(String(value))}`;
      const unit = spec && 'unit' in spec ? spec.unit : /Deg$/.test(name) ? 'deg' : '1';
      return `${label} ${withUnit(plainNumber(value, mark), unit)}`;
    })
    .join(', ');
}

/** A number as short as it can be written, at most four decimals. */
function plainNumber(value: number, mark: DecimalMark): string {
  return String(Number(value.toFixed(4)))
    .replace('-', '−')
    .replace('.', mark);
}

/** Where the number stands, what held it against what, and what it was made of. */
export function howFacts(
  row: Characteristic,
  info: DefinitionInfo | null,
  rule: DecisionRule,
  mark: DecimalMark,
): Fact[] {
  const { unit } = row.requirement;
  const meaning = info?.meaning ?? WHOLE_PART[row.definition];
  const facts: Fact[] = [
    { what: 'definition', text: info ? `${info.name} (${row.definition})` : row.definition },
    ...(meaning ? [{ what: 'meaning', text: meaning }] : []),
  ];
  const parameters = parametersText(row.parameters ?? {}, info?.parameters ?? [], mark);
  if (parameters) facts.push({ what: 'with', text: parameters });
  facts.push(...evidenceFacts(row, mark));
  if (row.coverage !== null)
    facts.push({
      what: row.section === null ? 'measured part' : 'measured part of the section',
      text: percentText(row.coverage),
    });
  if (row.alignment !== 'none') facts.push({ what: 'depends on the placement', text: row.alignment.replace('-', ' ') });
  const limited = row.requirement.lower !== null || row.requirement.upper !== null;
  facts.push({
    what: 'requirement',
    text: limited || row.requirement.nominal !== null ? withUnit(requirementText(row, mark), unit) : 'none',
  });
  if (limited && row.value !== null) facts.push(...ruleFacts(row, rule, mark));
  return facts;
}

function evidenceFacts(row: Characteristic, mark: DecimalMark): Fact[] {
  return Object.entries(row.evidence ?? {}).flatMap(([name, value]) => {
    if (Array.isArray(value)) return [];
    const what = SPECIFIC[name] ?? plainWords(name);
    if (typeof value !== 'number')
      return [{ what, text: value === true ? 'yes' : value === false ? 'no' : plainWords(value) }];
    if (name === 'points' && value === 0) return [{ what, text: 'none: taken from the outline' }];
    if (Number.isInteger(value) && !/Deg$/.test(name)) return [{ what, text: String(value) }];
    return [{ what, text: evidenceNumber(value, evidenceUnit(name, row.requirement.unit), mark) }];
  });
}

const evidenceNumber = (value: number, unit: string, mark: DecimalMark): string =>
  withUnit(formatNumber(value, unit === 'deg' ? 2 : 4, mark), unit);

/** Unit of a number of the evidence by its name; what was done to the value has the value's own. */
function evidenceUnit(name: string, own: string): string {
  if (name === 'raw' || name === 'bias') return own;
  return /Deg$/.test(name) ? 'deg' : LENGTHS.test(name) ? 'mm' : '1';
}

function ruleFacts(row: Characteristic, rule: DecisionRule, mark: DecimalMark): Fact[] {
  if (rule.rule === 'simple') return [{ what: 'decision rule', text: 'value against limit, uncertainty not used' }];
  const { unit, lower, upper } = row.requirement;
  const facts = [
    {
      what: 'decision rule',
      text: `limits moved in by g = ${plainNumber(rule.factor, mark)} u to pass, out by g to fail`,
    },
  ];
  if (row.u === null) return [...facts, { what: 'guard band g', text: 'not known, so nothing is proven' }];
  const guard = rule.factor * row.u;
  const style = { unit, u: row.u, limits: [lower, upper] };
  const inside = [
    ...(lower === null ? [] : [`from ${showResult(lower + guard, style, mark)}`]),
    ...(upper === null ? [] : [`to ${showResult(upper - guard, style, mark)}`]),
  ].join(' ');
  const empty = lower !== null && upper !== null && lower + guard > upper - guard;
  return [
    ...facts,
    { what: 'guard band g', text: withUnit(formatNumber(guard, 4, mark), unit) },
    { what: 'proven inside', text: empty ? 'nowhere: the guard bands meet' : withUnit(inside, unit) },
  ];
}

/** Why a row has no verdict of its own, in words: the margin against the guard band, or the row's own reason. */
export function reasonText(row: Characteristic, rule: DecisionRule, mark: DecimalMark): string | null {
  const { unit, lower, upper } = row.requirement;
  const own = row.reason ?? null;
  if (row.verdict !== 'not-proven' || row.value === null || row.u === null || rule.rule === 'simple') return own;
  const nearest =
    lower === null ? upper : upper === null ? lower : row.value - lower < upper - row.value ? lower : upper;
  if (nearest === null) return own;
  const guard = rule.factor * row.u;
  const away = Math.abs(row.value - nearest);
  if (away > guard) return own;
  const side = nearest === lower ? 'lower' : 'upper';
  const where = (nearest === lower ? row.value >= nearest : row.value <= nearest) ? 'inside' : 'beyond';
  const text = (value: number): string => withUnit(formatNumber(value, 4, mark), unit);
  const close = `It lies ${text(away)} ${where} the ${side} limit; with this uncertainty less than g = ${text(guard)} proves neither pass nor fail.`;
  return own ? `${own} ${close}` : close;
}

/** Sources of uncertainty, the largest first. */
export function budgetLines(row: Characteristic): BudgetLine[] {
  const entries = Object.entries(row.budget ?? {});
  const whole = entries.reduce((sum, [, u]) => sum + u * u, 0);
  return entries
    .map(([source, u]) => ({ source: plainWords(source), expanded: 2 * u, share: whole > 0 ? (u * u) / whole : 0 }))
    .sort((a, b) => b.expanded - a.expanded);
}

/** "0.186 mm, U 0.008 mm" or "not measured". */
export function resultText(row: Pick<Characteristic, 'value' | 'u' | 'requirement'>, mark: DecimalMark): string {
  const { unit, lower, upper } = row.requirement;
  if (row.value === null) return 'not measured';
  const value = withUnit(showResult(row.value, { unit, u: row.u, limits: [lower, upper] }, mark), unit);
  return `${value}, U ${row.u === null ? 'not known' : withUnit(formatU(row.u).replace('.', mark), unit)}`;
}
