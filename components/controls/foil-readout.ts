import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { formatU } from '../../src/report/format-number.ts';
import { emit } from '../events.ts';
import type { ShownLimits } from '../plots/hub.ts';
import { sectionKey } from '../plots/plot-keys.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { chosenSection, readingAt, rowRange, type Selection, sideAt } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { formatNumber, showResult } from './format.ts';
import { SIDE_WORDS } from './words.ts';

/**
 * @summary The chosen place in numbers, with buttons for every key of the map. Read out when it changes.
 * @fires foil-select - a neighbouring place
 * @fires foil-worst - next worst place
 * @fires foil-clear - forget the place
 */
@customElement('foil-readout')
export class FoilReadout extends LitElement {
  static override styles = [
    base,
    css`
      dl {
        display: grid;
        grid-template-columns: max-content minmax(0, 1fr);
        gap: 3px 14px;
        margin: 0 0 10px;
        font-size: var(--foil-small);
      }
      dt {
        color: var(--foil-muted);
      }
      dd {
        margin: 0;
        font-variant-numeric: tabular-nums slashed-zero;
      }
      .row {
        margin-top: 8px;
      }
      .value {
        font-size: 1.5rem;
        font-weight: 600;
        line-height: 1.2;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) limits!: ShownLimits;
  @property({ attribute: false }) selection: Selection = {};

  private step(key: string): void {
    const section = chosenSection(this.results, this.selection) ?? this.results.sections[0];
    if (!section) return;
    const next = sectionKey(key, false, this.results, section, this.selection);
    if (next) emit(this, 'foil-select', next);
  }

  private limitText(lower: number | null, upper: number | null): string {
    const text = (limit: number): string => showResult(limit, { unit: 'mm', signed: true }, this.view.mark);
    if (lower === null && upper === null) return 'none here';
    if (lower === null) return `up to ${text(upper!)} mm`;
    return upper === null ? `from ${text(lower)} mm` : `${text(lower)} to ${text(upper)} mm`;
  }

  private rows(height: number, along: number): TemplateResult {
    const { mark } = this.view;
    const { deviation, u } = readingAt(this.results, height, along);
    const range = rowRange(this.results, height) ?? [0, 0];
    const { lower, upper } = this.limits.at(height, along, range[0], range[1]);
    const style = { unit: 'mm', u, limits: [lower, upper] };
    const limitText = this.limitText(lower, upper);
    const toTrailing = Math.min(along - range[0], range[1] - along);
    const nearTrailing = toTrailing < Math.abs(along);
    const distance = nearTrailing ? toTrailing : Math.abs(along);
    const spans = this.results.map?.heights ?? [0, 1];
    const share = (100 * (height - spans[0])) / (spans[spans.length - 1] - spans[0] || 1);
    return html`<p class="value number">
        ${deviation === null ? 'Not measured' : html`${showResult(deviation, { ...style, signed: true }, mark)} mm`}
      </p>
      <dl>
        <dt>U (k = 2)</dt>
        <dd>${formatU(u).replace('.', mark)} mm</dd>
        <dt>${this.limits.trial ? 'trial limits' : this.results.stock ? 'stock wanted' : 'limits'}</dt>
        <dd>${limitText}</dd>
        <dt>height</dt>
        <dd>${formatNumber(height, 2, mark)} mm, ${formatNumber(share, 0)} % of the map</dd>
        <dt>place</dt>
        <dd>${SIDE_WORDS[this.selection.side ?? sideAt(this.results, height, along)]}, ${formatNumber(distance, 2, mark)} mm from the ${nearTrailing ? 'trailing' : 'leading'} edge</dd>
        <dt>section</dt>
        <dd>${chosenSection(this.results, this.selection)?.id ?? '–'}</dd>
      </dl>`;
  }

  override render(): TemplateResult {
    const { height, along } = this.selection;
    const placed = height !== undefined && along !== undefined;
    return html`<h2>Here</h2>
      <div aria-live="polite">
        ${placed ? this.rows(height, along) : html`<p class="small muted">Choose a place in the map, a plot, the table or 3D.</p>`}
      </div>
      <div class="row">
        <div class="group">
          <button aria-label="Back along the outline" @click=${() => this.step('ArrowLeft')}>←</button>
          <button aria-label="On along the outline" @click=${() => this.step('ArrowRight')}>→</button>
        </div>
        <div class="group">
          <button aria-label="Section below" @click=${() => this.step('PageDown')}>↓</button>
          <button aria-label="Section above" @click=${() => this.step('PageUp')}>↑</button>
        </div>
        <button @click=${() => emit(this, 'foil-worst', { step: 1 })}>Next worst</button>
        ${placed ? html`<button @click=${() => emit(this, 'foil-clear', null)}>Clear</button>` : nothing}
      </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-readout': FoilReadout;
  }
}
