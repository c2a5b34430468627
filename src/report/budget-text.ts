import { formatU } from './format-number.ts';

/** The sources of uncertainty a budget may name, in the order they are printed. */
export const BUDGET_SOURCES = [
  { key: 'random', word: 'scatter' },
  { key: 'equipment', word: 'equipment' },
  { key: 'tipRadius', word: 'tip radius' },
  { key: 'temperature', word: 'temperature' },
] as const;

/** The parts of a budget as expanded uncertainties (k = 2), such as "scatter 0.003, equipment 0.004"; '' without one. */
export function budgetText(budget: Record<string, number> | undefined): string {
  if (!budget) return '';
  return BUDGET_SOURCES.filter(({ key }) => budget[key] !== undefined)
    .map(({ key, word }) => `${word} ${formatU(budget[key])}`)
    .join(', ');
}
