import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { DecisionRule } from '../../src/judge/decide.ts';
import type { DefinitionInfo } from '../../src/judge/definition-info.ts';
import type { Characteristic } from '../../src/model/results.ts';
import { unitText } from '../../src/report/format-number.ts';
import { formatNumber } from '../controls/format.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { budgetLines, howFacts, reasonText } from './how-facts.ts';

/** @summary How one number came about: definition, evidence, uncertainty by source, decision rule and reason. */
@customElement('foil-how')
export class FoilHow extends LitElement {
  static override styles = [
    base,
    css`
      dl {
        display: grid;
        grid-template-columns: minmax(8em, max-content) minmax(0, 1fr);
        gap: 3px 14px;
        margin: 0;
        font-size: var(--foil-small);
      }
      dt {
        color: var(--foil-muted);
      }
      dd {
        margin: 0;
        font-variant-numeric: tabular-nums slashed-zero;
      }
      h3 {
        margin: 14px 0 4px;
      }
      .reason {
        border-left: 3px solid var(--foil-ink);
        padding-left: 8px;
        margin-bottom: 8px;
      }
      table {
        border-collapse: collapse;
        font-size: var(--foil-small);
        width: 100%;
      }
      th,
      td {
        text-align: left;
        font-weight: 400;
        padding: 2px 10px 2px 0;
      }
      thead th {
        color: var(--foil-muted);
      }
      .numeric {
        text-align: right;
      }
      .share {
        width: 40%;
        min-width: 60px;
      }
      .bar {
        display: block;
        height: 9px;
        background: var(--foil-muted);
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) row!: Characteristic;
  @property({ attribute: false }) info: DefinitionInfo | null = null;
  @property({ attribute: false }) rule!: DecisionRule;

  private budget(): TemplateResult {
    const lines = budgetLines(this.row);
    const { mark } = this.view;
    if (lines.length === 0) return html`<p class="small muted">The uncertainty is not broken down for this number.</p>`;
    return html`<table>
      <thead>
        <tr>
          <th scope="col">source</th>
          <th scope="col" class="numeric">U (k = 2), ${unitText(this.row.requirement.unit)}</th>
          <th scope="col" class="share">share of U²</th>
        </tr>
      </thead>
      <tbody>
        ${lines.map(
          ({ source, expanded, share }) => html`<tr>
            <th scope="row">${source}</th>
            <td class="numeric number">${formatNumber(expanded, 4, mark)}</td>
            <td class="share"><span class="out">${formatNumber(100 * share, 0)} %</span><span class="bar" style="width:${(100 * share).toFixed(1)}%"></span></td>
          </tr>`,
        )}
        ${
          this.row.u === null
            ? nothing
            : html`<tr>
              <th scope="row">together</th>
              <td class="numeric number">${formatNumber(2 * this.row.u, 4, mark)}</td>
              <td></td>
            </tr>`
        }
      </tbody>
    </table>`;
  }

  override render(): TemplateResult {
    const { row, info, rule } = this;
    const reason = reasonText(row, rule, this.view.mark);
    return html`${reason ? html`<p class="reason small"><strong>Why:</strong> ${reason}</p>` : nothing}
      <dl>${howFacts(row, info, rule, this.view.mark).map(({ what, text }) => html`<dt>${what}</dt><dd>${text}</dd>`)}</dl>
      <h3>Uncertainty by source</h3>
      ${this.budget()}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-how': FoilHow;
  }
}
