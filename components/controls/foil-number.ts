import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { formatNumber, parseNumber } from './format.ts';

/**
 * @summary A number with its unit, step buttons and limits. Point and comma are both read as decimal mark.
 * @fires foil-input - while a number within the limits is typed
 * @fires foil-change - once, when a new value is committed
 */
@customElement('foil-number')
export class FoilNumber extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: inline-block;
      }
      .row {
        flex-wrap: nowrap;
        gap: 4px;
      }
      input {
        width: 7.5em;
        text-align: right;
      }
      input[aria-invalid='true'] {
        border-width: 2px;
        border-color: var(--foil-ink);
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property() label = '';
  @property({ type: Number }) value = 0;
  @property() unit = '';
  @property({ type: Number }) min = Number.NEGATIVE_INFINITY;
  @property({ type: Number }) max = Number.POSITIVE_INFINITY;
  @property({ type: Number }) step = 0.01;
  @property({ type: Number }) decimals = 3;
  @property({ type: Boolean }) disabled = false;
  @state() private bad = false;
  /** What is being typed, kept as it is until it is committed; null otherwise. */
  @state() private draft: string | null = null;

  private commit(value: number): void {
    const held = Math.min(this.max, Math.max(this.min, value));
    this.bad = false;
    this.draft = null;
    if (held === this.value) return;
    this.value = held;
    emit(this, 'foil-change', { value: held });
  }

  private typed(event: Event): void {
    const value = parseNumber((event.target as HTMLInputElement).value);
    if (value === null) this.bad = true;
    else this.commit(value);
  }

  private typing(event: Event): void {
    this.draft = (event.target as HTMLInputElement).value;
    const value = parseNumber(this.draft);
    if (value !== null && value >= this.min && value <= this.max) emit(this, 'foil-input', { value });
  }

  private key(event: KeyboardEvent): void {
    if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      event.preventDefault();
      this.commit(this.value + (event.key === 'ArrowUp' ? this.step : -this.step));
    }
  }

  override render(): TemplateResult {
    return html`<span class="row">
      <button tabindex="-1" ?disabled=${this.disabled} aria-label="${this.label} down" @click=${() => this.commit(this.value - this.step)}>−</button>
      <input
        type="text"
        inputmode="decimal"
        aria-label=${this.label}
        aria-invalid=${this.bad}
        aria-describedby=${this.bad ? 'wrong' : 'unit'}
        ?disabled=${this.disabled}
        .value=${this.draft ?? formatNumber(this.value, this.decimals, this.view.mark)}
        @input=${this.typing}
        @change=${this.typed}
        @keydown=${this.key}
      />
      <button tabindex="-1" ?disabled=${this.disabled} aria-label="${this.label} up" @click=${() => this.commit(this.value + this.step)}>+</button>
      <span id="unit" class="small">${this.unit}</span>
      ${this.bad ? html`<span id="wrong" class="small" role="alert">Type one number.</span>` : nothing}
    </span>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-number': FoilNumber;
  }
}
