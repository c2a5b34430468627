import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { aboutNominal } from '../../src/report/svg/trend-series.ts';
import { type Hub, MAP_MARGIN } from '../plots/hub.ts';
import type { Pictures } from '../plots/pictures.ts';
import { trendNumbers } from '../plots/plot-numbers.ts';
import { trendSeriesOf } from '../plots/trend-series.ts';
import type { Selection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import '../plots/foil-edge-strip.ts';
import '../plots/foil-numbers.ts';
import '../plots/foil-plot-menu.ts';
import '../plots/foil-trend-panel.ts';

const STRIP_WIDTH = 76;
const LEAST_TREND_WIDTH = 70;
const STRIP_FACTORS = [10, 20, 50];

/** @summary What stands beside the map on its height axis: both edges magnified, and the trends over height. */
@customElement('foil-map-margins')
export class FoilMapMargins extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: flex;
        gap: 18px;
      }
      .side-by-side {
        display: flex;
      }
      .side-by-side > * {
        flex: none;
      }
      .strips {
        flex: none;
      }
      .trends {
        min-width: 0;
        flex: 1;
      }
      .trends .side-by-side {
        overflow-x: auto;
      }
      .between {
        min-height: 34px;
        align-items: center;
      }
      h2 {
        margin: 0;
      }
      .small-button {
        min-height: 28px;
        padding: 0 8px;
      }
      :host-context([data-density='roomy']) .small-button {
        min-height: 48px;
      }
      @media (max-width: 700px) {
        :host {
          flex-wrap: wrap;
        }
      }
    `,
  ];

  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) hub!: Hub;
  @property({ attribute: false }) pictures!: Pictures;
  @property({ attribute: false }) selection: Selection = {};
  /** Width of the whole (px). */
  @property({ type: Number }) width = 0;
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private factor = STRIP_FACTORS[0];
  private series: TrendSeries[] = [];

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('results')) this.series = trendSeriesOf(this.results);
  }

  private edges(): TemplateResult {
    const next = STRIP_FACTORS[(STRIP_FACTORS.indexOf(this.factor) + 1) % STRIP_FACTORS.length];
    return html`<div class="strips">
      <div class="between">
        <h2>Edges</h2>
        <button
          class="small-button"
          aria-label="Edges now ×${this.factor}; change to ×${next}"
          @click=${() => {
            this.factor = next;
          }}
        >
          ×${this.factor}
        </button>
      </div>
      <div class="side-by-side">
        ${(['leading', 'trailing'] as const).map(
          (edge) => html`<foil-edge-strip
            .edge=${edge}
            .results=${this.results}
            .hub=${this.hub}
            .selection=${this.selection}
            .magnification=${this.factor}
            .width=${STRIP_WIDTH}
            .stale=${this.stale}
          ></foil-edge-strip>`,
        )}
      </div>
    </div>`;
  }

  override render(): TemplateResult {
    const { series, hub } = this;
    const room = this.width - 2 * STRIP_WIDTH - 20;
    const width = Math.max(LEAST_TREND_WIDTH, Math.floor(room / Math.max(1, series.length)));
    return html`${this.edges()}
      <div class="trends">
        <div class="between">
          <h2>
            ${this.results.stock ? 'Stock over height' : html`Trends over height <span class="muted">Δ: from nominal</span>`}
          </h2>
          <foil-plot-menu .picture=${this.pictures.trends(series)} ?stale=${this.stale}></foil-plot-menu>
        </div>
        <div class="side-by-side">
          ${series.map(
            (one) => html`<foil-trend-panel
              .results=${this.results}
              .series=${aboutNominal(one)}
              .selection=${this.selection}
              .heightDomain=${hub.heightDomain}
              .height=${hub.geometry.height}
              .width=${width}
              .margins=${{ top: MAP_MARGIN.top, bottom: MAP_MARGIN.bottom }}
              .stale=${this.stale}
            ></foil-trend-panel>`,
          )}
        </div>
        <foil-numbers label="trends over height" .numbers=${() => trendNumbers(series)}></foil-numbers>
      </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-map-margins': FoilMapMargins;
  }
}
