import { consume } from '@lit/context';
import { html, LitElement, type nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatNumber } from '../controls/format.ts';
import { emit, type FoilEvent } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import type { ReviewState, Wanted } from '../state/review-state.ts';
import { base } from '../styles/base.ts';
import { stockAlignStyles } from './stock-align-styles.ts';
import '../controls/foil-number.ts';
import '../plots/foil-curve.ts';
import '../plots/foil-numbers.ts';

/** Upper limit a switch starts with (mm), where there was none. */
const MOST = 2;

/** The stock wanted in force; of zones that differ the smallest least and the largest most. */
function wantedNow(review: ReviewState): Wanted {
  if (review.wanted) return review.wanted;
  const least = Math.min(...review.planned.map((zone) => zone.least));
  const limits = review.planned.map((zone) => zone.most);
  return { least, most: limits.every((most) => most !== null) ? Math.max(...(limits as number[])) : null };
}

/**
 * @summary The stock wanted, least and most, to try; with the area short of stock against it.
 * @fires foil-review - other stock wanted
 */
@customElement('foil-stock-wanted')
export class FoilStockWanted extends LitElement {
  static override styles = [base, stockAlignStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) review!: ReviewState;
  /** Area short of stock (mm²) against the least stock wanted (mm). */
  @property({ attribute: false }) curve: { x: readonly number[]; y: readonly number[] } = { x: [], y: [] };
  @property({ type: Number }) width = 340;
  @property({ type: Boolean, reflect: true }) stale = false;

  private want(change: Partial<Wanted>): void {
    emit(this, 'foil-review', { act: 'want', wanted: { ...wantedNow(this.review), ...change } });
  }

  private least(event: FoilEvent<'foil-change'>): void {
    event.stopPropagation();
    this.want({ least: event.detail.value });
  }

  private most(event: FoilEvent<'foil-change'>): void {
    event.stopPropagation();
    this.want({ most: event.detail.value });
  }

  private planNote(): TemplateResult | typeof nothing {
    const { planned, wanted, reply } = this.review;
    const levels = [...new Set(planned.map((zone) => zone.least))].sort((a, b) => a - b);
    const shown = levels.map((least) => formatNumber(least, 2, this.view.mark)).join(', ');
    const { factor } = reply!.results.stock!.wanted;
    const extra = factor > 0 ? ` Each cell’s ${formatNumber(factor, 1, this.view.mark)} u comes on top.` : '';
    return html`<p class="small muted">${wanted ? 'In every zone; the plan wants' : 'As the plan wants:'} ${shown} mm.${extra}</p>`;
  }

  override render(): TemplateResult {
    const { least, most } = wantedNow(this.review);
    const busy = this.stale || this.review.job.state === 'working';
    return html`<h2>Stock wanted</h2>
      <div class="field">
        <span>least</span>
        <foil-number
          label="Least stock wanted"
          unit="mm"
          .value=${least}
          .min=${0}
          .step=${0.05}
          .decimals=${2}
          .disabled=${busy}
          @foil-input=${this.least}
          @foil-change=${this.least}
        ></foil-number>
        <label class="choice"
          ><input
            type="checkbox"
            aria-label="Upper limit of the stock"
            .checked=${most !== null}
            ?disabled=${busy}
            @change=${(e: Event) => this.want({ most: (e.target as HTMLInputElement).checked ? Math.max(MOST, least) : null })}
          />most</label
        >
        ${
          most === null
            ? html`<span class="muted">no upper limit</span>`
            : html`<foil-number
              label="Most stock allowed"
              unit="mm"
              .value=${most}
              .min=${least}
              .step=${0.05}
              .decimals=${2}
              .disabled=${busy}
              @foil-input=${this.most}
              @foil-change=${this.most}
            ></foil-number>`
        }
      </div>
      ${this.planNote()}
      <foil-curve
        label="Least stock wanted"
        shows="area short of stock"
        .x=${this.curve.x}
        .y=${this.curve.y}
        .now=${least}
        .xUnit=${'mm'}
        .yUnit=${'mm²'}
        .step=${0.05}
        .decimals=${2}
        .yDecimals=${0}
        .locked=${busy}
        .width=${this.width}
        @foil-input=${this.least}
        @foil-change=${this.least}
      ></foil-curve>
      <p class="small muted legend">Area short of stock, mm², against the least stock wanted, 0 to ${formatNumber(this.curve.x[this.curve.x.length - 1] ?? 0, 1, this.view.mark)} mm.</p>
      <foil-numbers
        label="area short of stock against stock wanted"
        .numbers=${() => ({
          heads: ['stock wanted, mm', 'area short, mm²'],
          decimals: [2, 0],
          rows: this.curve.x.map((x, i) => [x, this.curve.y[i]]),
        })}
      ></foil-numbers>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-stock-wanted': FoilStockWanted;
  }
}
