import { consume } from '@lit/context';
import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import type { Value } from '../../src/model/value.ts';
import type { Truth } from '../../src/worker/messages.ts';
import { formatNumber } from '../controls/format.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { nearestSection } from '../state/selection.ts';
import { base } from '../styles/base.ts';

/** A defect is held against the one listed within this height of it (mm). */
const BESIDE = 0.5;

/** The result a planted value is held against; null where there is none at that height. */
function resultOf(results: Results, truth: Truth): Pick<Value, 'value' | 'u'> | null {
  if (truth.of === 'nick') {
    const beside = (height: number) => Math.abs(height - truth.height!) < BESIDE;
    const found = results.faults?.find(({ kind, place }) => kind === 'nick' && beside(place.height));
    return found ? { value: found.depth, u: found.u } : null;
  }
  const section = truth.height === null ? null : nearestSection(results.sections, truth.height);
  if (section && Math.abs(section.height - truth.height!) > 0.01) return null;
  let at: unknown = section ? section.measured : results.trends;
  for (const key of truth.of.split('.')) at = (at as Record<string, unknown> | undefined)?.[key];
  return (at as Value | undefined) ?? null;
}

/** @summary True values of the example beside the results, so that a user can check the tool first. */
@customElement('foil-truths')
export class FoilTruths extends LitElement {
  static override styles = [
    base,
    css`
      .scroll {
        overflow-x: auto;
      }
      table {
        border-collapse: collapse;
        width: 100%;
        font-size: var(--foil-small);
      }
      th,
      td {
        text-align: left;
        font-weight: 400;
        height: var(--foil-row);
        padding: 0 12px 0 0;
        border-bottom: 1px solid var(--foil-line);
      }
      thead th {
        color: var(--foil-muted);
      }
      .number {
        text-align: right;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) truths: Truth[] = [];

  override render(): TemplateResult {
    const { mark } = this.view;
    return html`<h2>The example is invented; these are its true values</h2>
      <div class="scroll" tabindex="0" role="region" aria-label="True values of the example">
      <table>
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">place</th>
            <th scope="col" class="number">true, mm</th>
            <th scope="col" class="number">result, mm</th>
            <th scope="col" class="number">difference</th>
            <th scope="col" class="number">U (k = 2)</th>
          </tr>
        </thead>
        <tbody>
          ${this.truths.map((truth) => {
            const result = resultOf(this.results, truth);
            const value = result?.value ?? null;
            return html`<tr>
              <td>${truth.name}</td>
              <td>${truth.height === null ? 'whole part' : html`${formatNumber(truth.height, 1, mark)} mm`}</td>
              <td class="number">${formatNumber(truth.value, 4, mark)}</td>
              <td class="number">${formatNumber(value, 4, mark)}</td>
              <td class="number">${formatNumber(value === null ? null : value - truth.value, 4, mark, true)}</td>
              <td class="number">${formatNumber(result?.u == null ? null : 2 * result.u, 4, mark)}</td>
            </tr>`;
          })}
        </tbody>
      </table></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-truths': FoilTruths;
  }
}
