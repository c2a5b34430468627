import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { formatNumber } from '../controls/format.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { type Numbers, numbersText } from './plot-numbers.ts';

/**
 * @summary The table twin of a plot: its numbers to read and to copy.
 * @fires foil-copy - text put on the clipboard
 */
@customElement('foil-numbers')
export class FoilNumbers extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        font-size: var(--foil-small);
      }
      summary {
        cursor: pointer;
        min-height: 24px;
      }
      .scroll {
        max-height: 240px;
        overflow: auto;
        border: 1px solid var(--foil-line);
        margin-top: 6px;
      }
      table {
        border-collapse: collapse;
        width: 100%;
      }
      th,
      td {
        text-align: right;
        font-weight: 400;
        padding: 1px 12px;
        white-space: nowrap;
      }
      thead th {
        position: sticky;
        top: 0;
        background: var(--foil-page);
        color: var(--foil-muted);
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  /** What the numbers are of, such as "the outline". */
  @property() label = '';
  @property({ attribute: false }) numbers: () => Numbers = () => ({ heads: [], decimals: [], rows: [] });
  @state() private open = false;
  @state() private copied = false;

  private async copy(): Promise<void> {
    const text = numbersText(this.numbers());
    await navigator.clipboard.writeText(text);
    this.copied = true;
    emit(this, 'foil-copy', { text });
  }

  private table(): TemplateResult {
    const { heads, decimals, rows } = this.numbers();
    return html`<div class="scroll" tabindex="0" role="region" aria-label="Numbers of ${this.label}">
      <table>
        <thead>
          <tr>
            ${heads.map((head) => html`<th scope="col">${head}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            (row) => html`<tr>
              ${row.map((value, k) => html`<td>${value === null ? 'not measured' : formatNumber(value, decimals[k], this.view.mark)}</td>`)}
            </tr>`,
          )}
        </tbody>
      </table>
    </div>`;
  }

  override render(): TemplateResult {
    return html`<details
      @toggle=${(e: Event) => {
        this.open = (e.target as HTMLDetailsElement).open;
        this.copied = false;
      }}
    >
      <summary>Show as table<span class="out"> ${this.label}</span></summary>
      ${this.open ? html`<button @click=${this.copy}>${this.copied ? 'Copied' : 'Copy numbers'}</button>${this.table()}` : nothing}
    </details>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-numbers': FoilNumbers;
  }
}
