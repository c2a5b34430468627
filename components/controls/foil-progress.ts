import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { formatSeconds } from './format.ts';

/**
 * @summary Where a long step stands, with a Cancel that always works.
 * @fires foil-cancel - with the key of the file, or null for the job
 */
@customElement('foil-progress')
export class FoilProgress extends LitElement {
  static override styles = [
    base,
    css`
      .line {
        display: grid;
        grid-template-columns: 1fr auto;
        gap: 2px 12px;
        align-items: center;
        font-size: var(--foil-small);
      }
      .bar {
        grid-column: 1;
        height: 8px;
        border: 1px solid var(--foil-edge);
        background: var(--foil-page);
      }
      .fill {
        height: 100%;
        background: var(--foil-ink);
      }
      button {
        grid-column: 2;
        grid-row: 1 / span 2;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property() step = '';
  @property({ type: Number }) done = 0;
  @property({ type: Number }) total = 0;
  /** Number of the step among those begun; 0 hides it. */
  @property({ type: Number }) stepNumber = 0;
  @property({ type: Number }) seconds = 0;
  @property() key: string | null = null;
  @property({ type: Boolean }) cancellable = false;

  override render(): TemplateResult {
    const share = this.total > 0 ? Math.min(1, this.done / this.total) : 0;
    const percent = Math.floor(100 * share);
    const words = `${this.stepNumber > 0 ? `Step ${this.stepNumber}: ` : ''}${this.step || 'Starting'}`;
    return html`<div class="line">
      <span id="words">${words} · <span class="number">${percent} %</span>${
        this.seconds >= 2 ? html` · ${formatSeconds(this.seconds, this.view.mark)} so far` : nothing
      }</span>
      <div class="bar" role="progressbar" aria-labelledby="words" aria-valuenow=${percent} aria-valuemin="0" aria-valuemax="100">
        <div class="fill" style="width:${100 * share}%"></div>
      </div>
      ${
        this.cancellable
          ? html`<button @click=${() => emit(this, 'foil-cancel', { key: this.key })}>Cancel</button>`
          : nothing
      }
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-progress': FoilProgress;
  }
}
