import { ruleText } from '../../judge/decide.ts';
import { ruleOf } from '../../judge/zones.ts';
import type { Plan } from '../../model/plan.ts';
import type { Results } from '../../model/results.ts';
import { formatFixed } from '../format-number.ts';
import { type Html, text, verdictHtml } from './html-parts.ts';

/** The decision rule and what uncertainty was stated, in words. */
export function ruleHtml(results: Results, plan: Plan | null): Html {
  const noise = results.deviation
    ? `Standard deviation of one point found in the data: ${formatFixed(results.deviation.noise, 4)} mm. `
    : '';
  const datums = plan?.datums?.length ? `<p>Datums of the drawing: ${text(plan.datums.join(', '))}.</p>` : '';
  return (
    `<p>${text(ruleText(ruleOf(plan)))} The verdict is taken on unrounded values. U is the expanded uncertainty, k = 2.</p>` +
    `<p>${text(noise + statedText(plan))}</p>${datums}` +
    `<p class="key">${(['pass', 'fail', 'not-proven', 'not-measured'] as const).map(verdictHtml).join(' &nbsp; ')}</p>`
  );
}

function statedText(plan: Plan | null): string {
  const { equipment, tipRadius, temperature } = plan?.uncertainty ?? {};
  const stated = [
    equipment === undefined
      ? 'No uncertainty of the equipment was stated: u holds the scatter of the data only.'
      : `Stated for the equipment: u = ${equipment} mm (k = 1) at a point, added in quadrature.`,
  ];
  if (tipRadius !== undefined)
    stated.push(
      `Stated for the tip radius: u = ${tipRadius} mm; it counts twice in chord and thickness, not in angles.`,
    );
  if (temperature)
    stated.push(
      `Stated for the temperature: u = ${temperature.u} K at an expansion of ${temperature.expansion} per K.`,
    );
  if (equipment === undefined && (tipRadius !== undefined || temperature))
    stated[0] = 'No uncertainty of the equipment was stated.';
  return stated.join(' ');
}
