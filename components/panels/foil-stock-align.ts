import { consume } from '@lit/context';
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SpareCurve } from '../../src/model/stock-results.ts';
import { formatNumber, parseNumber } from '../controls/format.ts';
import { MOTION_WORDS, MOTIONS, type Motion, PLACEMENT_WORDS } from '../controls/words.ts';
import { emit, type FoilEvent } from '../events.ts';
import type { Numbers } from '../plots/plot-numbers.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { allowedValues, onTrial, type PlaceMethod, placedValues, type ReviewState } from '../state/review-state.ts';
import { nearestIndex } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { stockAlignStyles } from './stock-align-styles.ts';
import '../controls/foil-number.ts';
import '../plots/foil-curve.ts';
import '../plots/foil-numbers.ts';
import './foil-stock-wanted.ts';

const METHODS: PlaceMethod[] = ['best-fit', 'share-stock', 'datum'];
const STEP = 0.01;

const unitOf = (motion: Motion): string => (motion.startsWith('r') ? '°' : 'mm');

const sentence = (text: string): string => text[0].toUpperCase() + text.slice(1);

/** Gain (mm) below which no other value of a motion is called better. */
const GAIN = 0.0005;

/** The best value of a motion; where it gains nothing, the present one. */
function bestOf({ values, spare, best, now }: SpareCurve): number {
  const here = spare[nearestIndex(values, now)] ?? Number.NaN;
  return Math.max(...spare) - here > GAIN ? best : now;
}

/** Every curve as two columns of a table. */
function curveNumbers(curves: readonly SpareCurve[]): Numbers {
  const rows = Math.max(0, ...curves.map((curve) => curve.values.length));
  return {
    heads: curves.flatMap(({ axis }) => [`${MOTION_WORDS[axis]}, ${unitOf(axis)}`, 'least spare, mm']),
    decimals: curves.flatMap(() => [3, 3]),
    rows: Array.from({ length: rows }, (_, i) =>
      curves.flatMap(({ values, spare }) => [values[i] ?? null, spare[i] ?? null]),
    ),
  };
}

/**
 * @summary Placement of a blank: fits by name, six values to try with lock, range and curve, and the stock wanted.
 * @fires foil-review - a fit, a value, a lock, a range, or the stock wanted
 */
@customElement('foil-stock-align')
export class FoilStockAlign extends LitElement {
  static override styles = [base, stockAlignStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) review!: ReviewState;
  @property({ attribute: false }) curves: readonly SpareCurve[] = [];
  /** Area short of stock (mm²) against the stock wanted (mm). */
  @property({ attribute: false }) shortCurve: { x: readonly number[]; y: readonly number[] } = { x: [], y: [] };
  /** True when the plan names targets for a datum fit. */
  @property({ type: Boolean }) targets = false;
  /** Width of the panel (px). */
  @property({ type: Number }) width = 340;
  @property({ type: Boolean, reflect: true }) stale = false;

  private get busy(): boolean {
    return this.review.job.state === 'working' || this.stale;
  }

  private fits(): TemplateResult {
    const method = this.review.reply!.results.stock!.placement.method;
    return html`<div class="fits" role="group" aria-label="Fits">
        ${METHODS.map(
          (m) => html`<button
            aria-pressed=${m === method && !onTrial(this.review)}
            aria-describedby=${m === 'datum' && !this.targets ? 'no-targets' : nothing}
            ?disabled=${this.busy || (m === 'datum' && !this.targets)}
            @click=${() => emit(this, 'foil-review', { act: 'place', method: m })}
          >
            ${sentence(PLACEMENT_WORDS[m])}
          </button>`,
        )}
      </div>
      ${this.targets ? nothing : html`<p id="no-targets" class="small muted">Datum fit: the plan names no targets.</p>`}`;
  }

  private trialBar(): TemplateResult | typeof nothing {
    if (!onTrial(this.review)) return nothing;
    return html`<div class="trial" role="group" aria-label="Trial">
      <p class="small"><strong>Trial.</strong> Reckoned from the cells; map and answer follow.</p>
      <div class="row">
        <button class="strong" ?disabled=${this.busy} @click=${() => emit(this, 'foil-confirm', null)}>
          Confirm on all points
        </button>
        <button @click=${() => emit(this, 'foil-review', { act: 'back' })}>Back</button>
      </div>
    </div>`;
  }

  private lock(motion: Motion, locked: boolean): void {
    emit(this, 'foil-review', { act: 'lock', motion, locked });
  }

  private key(event: KeyboardEvent, motion: Motion): void {
    if (event.key.toLowerCase() !== 'l' || !this.view.letterKeys || event.ctrlKey || event.metaKey || event.altKey)
      return;
    event.preventDefault();
    this.lock(motion, !this.review.locks.includes(motion));
  }

  private move(motion: Motion, event: FoilEvent<'foil-change'>): void {
    event.stopPropagation();
    emit(this, 'foil-review', { act: 'move', motion, value: event.detail.value });
  }

  private motion(motion: Motion, k: number): TemplateResult {
    const { review } = this;
    const placed = placedValues(review.reply!)[k];
    const now = review.trial?.[k] ?? placed;
    const locked = review.locks.includes(motion);
    const range = allowedValues(review, motion);
    const curve = this.curves.find(({ axis }) => axis === motion);
    const word = MOTION_WORDS[motion];
    const onMove = (event: FoilEvent<'foil-change'>): void => this.move(motion, event);
    return html`<div class="motion" ?data-moved=${now !== placed} @keydown=${(e: KeyboardEvent) => this.key(e, motion)}>
      <span class="name">${word}</span>
      <foil-number
        label=${word}
        .value=${now}
        .unit=${unitOf(motion)}
        .step=${STEP}
        .decimals=${3}
        .min=${range?.[0] ?? Number.NEGATIVE_INFINITY}
        .max=${range?.[1] ?? Number.POSITIVE_INFINITY}
        .disabled=${locked || this.busy}
        @foil-input=${onMove}
        @foil-change=${onMove}
      ></foil-number>
      <label class="choice"
        ><input
          type="checkbox"
          aria-label="Lock ${word}"
          .checked=${locked}
          @change=${(e: Event) => this.lock(motion, (e.target as HTMLInputElement).checked)}
        />Lock</label
      >
      <foil-curve
        .label=${word}
        shows="least spare stock"
        .x=${curve?.values ?? []}
        .y=${curve?.spare ?? []}
        .now=${now}
        .best=${curve ? bestOf(curve) : null}
        .xUnit=${unitOf(motion)}
        .step=${STEP}
        .range=${range}
        .locked=${locked || this.busy}
        .width=${this.width}
        ?stale=${this.stale}
        @foil-input=${onMove}
        @foil-change=${onMove}
      ></foil-curve>
    </div>`;
  }

  private setRange(motion: Motion, end: 0 | 1, event: Event): void {
    const typed = (event.target as HTMLInputElement).value;
    const value = parseNumber(typed);
    if (value === null && typed.trim() !== '') return;
    const now: [number, number] = [
      ...(this.review.ranges[motion] ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]),
    ];
    now[end] = value ?? (end === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY);
    const free = now.every((limit) => !Number.isFinite(limit));
    emit(this, 'foil-review', { act: 'range', motion, range: free ? null : now });
  }

  private ranges(): TemplateResult {
    const { ranges } = this.review;
    const field = (motion: Motion, end: 0 | 1): TemplateResult => {
      const limit = ranges[motion]?.[end];
      const shown = limit === undefined || !Number.isFinite(limit) ? '' : formatNumber(limit, 3, this.view.mark);
      return html`<input
        type="text"
        inputmode="decimal"
        placeholder="free"
        aria-label="${MOTION_WORDS[motion]}, ${end === 0 ? 'lowest' : 'highest'} value allowed, ${unitOf(motion)}"
        .value=${shown}
        @change=${(e: Event) => this.setRange(motion, end, e)}
      />`;
    };
    const set = MOTIONS.filter((motion) => ranges[motion] !== undefined).map((motion) => MOTION_WORDS[motion]);
    return html`<details>
      <summary>Allowed ranges${set.length > 0 ? `: ${set.join(', ')}` : nothing}</summary>
      <p class="muted">Counted from the placement the review began with.</p>
      <div class="ranges">
        <span></span><span class="muted">lowest</span><span class="muted">highest</span>
        ${MOTIONS.map(
          (motion) =>
            html`<span>${MOTION_WORDS[motion]}, ${unitOf(motion)}</span>${field(motion, 0)}${field(motion, 1)}`,
        )}
      </div>
    </details>`;
  }

  override render(): TemplateResult | typeof nothing {
    const { review } = this;
    const stock = review.reply?.results.stock;
    if (!stock) return nothing;
    return html`<h2>Alignment: ${onTrial(review) ? 'trial' : PLACEMENT_WORDS[stock.placement.method]}</h2>
      ${this.fits()} ${this.trialBar()}
      ${MOTIONS.map((motion, k) => this.motion(motion, k))}
      <p class="small muted legend">Curves: least spare stock, mm, against each value. ● now ◇ best</p>
      <foil-numbers label="least spare stock against each value" .numbers=${() => curveNumbers(this.curves)}></foil-numbers>
      ${this.ranges()}
      <foil-stock-wanted
        class="wanted"
        .review=${review}
        .curve=${this.shortCurve}
        .width=${this.width}
        ?stale=${this.stale}
      ></foil-stock-wanted>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-stock-align': FoilStockAlign;
  }
}
