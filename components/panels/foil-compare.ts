import { consume } from '@lit/context';
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatNumber } from '../controls/format.ts';
import { PLACEMENT_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { type Hub, hubOf, shownLimits } from '../plots/hub.ts';
import { patternDefs, plotStyles, stepAreas } from '../plots/plot-styles.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type KeptReview, MOST_KEPT } from '../state/review-state.ts';
import type { Selection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';
import { compareRows, differences } from './compare-rows.ts';

/** Room of a small map, its margins included (px). */
const ROOM = { width: 300, height: 250 };
/** Margins the layout of a map leaves for its axes; a small one shows none and is cut to its plot. */
const EDGE = 3;

/**
 * @summary Kept results side by side: small maps with one key, and a table of their differences.
 * @fires foil-choose - the two results the table compares
 * @fires foil-review - a kept result renamed or removed
 * @fires foil-select - the place chosen on a small map
 */
@customElement('foil-compare')
export class FoilCompare extends LitElement {
  static override styles = [
    base,
    plotStyles,
    tableStyles,
    css`
      .maps {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(230px, 100%), 1fr));
        gap: 18px;
        margin: 10px 0 18px;
      }
      figure {
        margin: 0;
        min-width: 0;
        display: grid;
        grid-template-rows: 1fr auto;
      }
      figure svg {
        width: 100%;
        height: 220px;
      }
      .head {
        display: flex;
        gap: var(--foil-gap);
      }
      .name {
        flex: 1;
        min-width: 0;
        font-weight: 650;
      }
      figcaption {
        min-width: 0;
        margin-bottom: 6px;
      }
      .pair {
        margin: 6px 0;
      }
      table {
        max-width: 620px;
      }
      label {
        font-size: var(--foil-small);
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) kept: readonly KeptReview[] = [];
  @property({ attribute: false }) selection: Selection = {};
  /** Keys of the two results the table compares; the first and the last while they are not among the kept. */
  @property() from = '';
  @property() to = '';
  private hubs = new WeakMap<KeptReview['results'], Hub>();

  private hub(kept: KeptReview): Hub | null {
    const known = this.hubs.get(kept.results);
    if (known) return known;
    const made = hubOf(kept.results, shownLimits(kept.results, 0), ROOM, 'true');
    if (made) this.hubs.set(kept.results, made);
    return made;
  }

  private small(kept: KeptReview): TemplateResult | typeof nothing {
    const hub = this.hub(kept);
    if (!hub) return nothing;
    const { geometry: g } = hub;
    const { height, along } = this.selection;
    const box = [g.plot.x - EDGE, g.plot.y - EDGE, g.plot.width + 2 * EDGE, g.plot.height + 2 * EDGE];
    const { least } = kept.results.stock!;
    return html`<svg viewBox=${box.join(' ')} role="img" aria-label="Surface map of ${kept.name}: least stock ${formatNumber(least.value, 2, this.view.mark, true)} mm">
      ${patternDefs()}
      <path d=${g.outline} fill="var(--foil-page)"></path>
      ${stepAreas(g.steps)}
      <path d=${g.notMeasured} fill="url(#dots)"></path>
      <path d=${g.limitLine} fill="none" stroke="#14181D" stroke-width="1.1"></path>
      <path d=${g.outline} fill="none" stroke="var(--foil-map-line)"></path>
      <path d=${g.leadingEdge} fill="none" stroke="var(--foil-edge)" stroke-dasharray="2 3"></path>
      ${
        height === undefined || along === undefined
          ? nothing
          : svg`<circle class="under-data" cx=${g.x(along, height)} cy=${g.y(height)} r="5"></circle><circle class="on-data" cx=${g.x(along, height)} cy=${g.y(height)} r="5"></circle>`
      }
    </svg>`;
  }

  private figure(kept: KeptReview): TemplateResult {
    const { stock, answers } = kept.results;
    const rename = (event: Event): void => {
      emit(this, 'foil-review', { act: 'rename', key: kept.key, name: (event.target as HTMLInputElement).value });
    };
    return html`<figure data-kept=${kept.key}>
      <figcaption>
        <div class="head">
          <input class="name" type="text" aria-label="Name of kept result ${kept.name}" .value=${kept.name} @change=${rename} />
          <button aria-label="Remove ${kept.name}" @click=${() => emit(this, 'foil-review', { act: 'unkeep', key: kept.key })}>
            Remove
          </button>
        </div>
        <p class="small"><span class="muted">${PLACEMENT_WORDS[stock!.placement.method]}:</span> ${answers.stock?.text ?? ''}</p>
      </figcaption>
      ${this.small(kept)}
    </figure>`;
  }

  private pair(): [KeptReview, KeptReview] | null {
    const { kept } = this;
    if (kept.length < 2) return null;
    const find = (key: string): KeptReview | undefined => kept.find((k) => k.key === key);
    return [find(this.from) ?? kept[0], find(this.to) ?? kept[kept.length - 1]];
  }

  private choose(change: { from?: string; to?: string }): void {
    const [a, b] = this.pair()!;
    emit(this, 'foil-choose', { from: a.key, to: b.key, ...change });
  }

  private select(word: string, now: KeptReview, set: (key: string) => void): TemplateResult {
    return html`<label
      >${word}
      <select @change=${(e: Event) => set((e.target as HTMLSelectElement).value)}>
        ${this.kept.map(({ key, name }) => html`<option value=${key} ?selected=${key === now.key}>${name}</option>`)}
      </select></label
    >`;
  }

  private table([a, b]: [KeptReview, KeptReview]): TemplateResult {
    const { mark } = this.view;
    const text = (value: number | null, decimals: number, signed: boolean): string =>
      formatNumber(value, decimals, mark, signed);
    const differ = differences(a, b);
    return html`<div class="row pair">
        ${this.select('Compare', a, (from) => this.choose({ from }))} ${this.select('with', b, (to) => this.choose({ to }))}
        <span class="small">${differ.length === 0 ? 'They differ in nothing.' : `They differ in: ${differ.join('; ')}.`}</span>
      </div>
      <div class="scroll" tabindex="0" role="region" aria-label="Differences of ${a.name} and ${b.name}">
        <table>
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col" class="numeric">${a.name}</th>
              <th scope="col" class="numeric">${b.name}</th>
              <th scope="col" class="numeric">${b.name} − ${a.name}</th>
              <th scope="col">unit</th>
            </tr>
          </thead>
          <tbody>
            ${compareRows(a, b).map(
              ({ name, unit, decimals, signed, from, to }) => html`<tr>
                <th scope="row">${name}</th>
                <td class="numeric">${text(from, decimals, signed)}</td>
                <td class="numeric">${text(to, decimals, signed)}</td>
                <td class="numeric">${text(from === null || to === null ? null : to - from, decimals, true)}</td>
                <td>${unit}</td>
              </tr>`,
            )}
          </tbody>
        </table>
      </div>`;
  }

  override render(): TemplateResult | typeof nothing {
    const { kept } = this;
    if (kept.length === 0) return nothing;
    const pair = this.pair();
    return html`<h2>Kept results <span class="muted">${kept.length} of ${MOST_KEPT}; colours as in the key above</span></h2>
      <div class="maps">${kept.map((one) => this.figure(one))}</div>
      ${pair ? this.table(pair) : html`<p class="small muted">Keep a second result to compare.</p>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-compare': FoilCompare;
  }
}
