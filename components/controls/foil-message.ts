import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { emit } from '../events.ts';
import { base } from '../styles/base.ts';

/**
 * @summary What happened, where, and what to do; details can be opened and copied.
 * @fires foil-remedy - the label of the chosen remedy
 */
@customElement('foil-message')
export class FoilMessage extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        border-left: 4px solid var(--foil-edge);
        padding: 6px 12px;
        background: var(--foil-panel);
        font-size: var(--foil-small);
      }
      :host([kind='error']) {
        border-left-color: var(--foil-ink);
        border-left-style: double;
        border-left-width: 7px;
      }
      .what {
        font-weight: 650;
        overflow-wrap: anywhere;
      }
      pre {
        margin: 6px 0;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
        font-size: 12px;
      }
      summary {
        cursor: pointer;
        min-height: 24px;
      }
    `,
  ];

  @property({ reflect: true }) kind: 'note' | 'warning' | 'error' = 'note';
  @property() what = '';
  @property() where = '';
  @property() why = '';
  /** What to do, in words. */
  @property() remedy = '';
  /** Labels of remedies that can be done from here. */
  @property({ attribute: false }) remedies: string[] = [];
  @property() details = '';
  @state() private copied = false;

  private async copy(): Promise<void> {
    const parts = [this.what, this.where, this.why, this.remedy, this.details].filter((x) => x !== '');
    await navigator.clipboard.writeText(parts.join('\n'));
    this.copied = true;
  }

  override render(): TemplateResult {
    const word = { note: 'Note', warning: 'Warning', error: 'Error' }[this.kind];
    return html`<div role=${this.kind === 'error' ? 'alert' : 'note'}>
      <p><span class="what">${word}: ${this.what}</span> ${this.why}</p>
      ${this.where ? html`<p class="muted">Where: ${this.where}</p>` : nothing}
      ${this.remedy ? html`<p>What to do: ${this.remedy}</p>` : nothing}
      ${
        this.remedies.length > 0
          ? html`<div class="row">
            ${this.remedies.map(
              (r) => html`<button @click=${() => emit(this, 'foil-remedy', { remedy: r })}>${r}</button>`,
            )}
          </div>`
          : nothing
      }
      ${
        this.details
          ? html`<details>
            <summary>Details</summary>
            <pre>${this.details}</pre>
            <button @click=${this.copy}>${this.copied ? 'Copied' : 'Copy details'}</button>
          </details>`
          : nothing
      }
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-message': FoilMessage;
  }
}
