import { consume } from '@lit/context';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { aboutNominal } from '../../src/report/svg/trend-series.ts';
import type { FoilEvent } from '../events.ts';
import { type Hub, MAP_MARGIN } from '../plots/hub.ts';
import { HubController } from '../plots/hub-controller.ts';
import { type Pictures, picturesOf } from '../plots/pictures.ts';
import { trendNumbers } from '../plots/plot-numbers.ts';
import { trendSeriesOf } from '../plots/trend-series.ts';
import { type AppState, usedPlan } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { chosenSection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { sectionsPageStyles } from './sections-page-styles.ts';
import '../controls/foil-answer.ts';
import '../controls/foil-colour-key.ts';
import '../controls/foil-readout.ts';
import '../plots/foil-edge-plot.ts';
import '../plots/foil-edge-strip.ts';
import '../plots/foil-map-panel.ts';
import '../plots/foil-numbers.ts';
import '../plots/foil-outline-plot.ts';
import '../plots/foil-plot-menu.ts';
import '../plots/foil-section-plot.ts';
import '../plots/foil-trend-panel.ts';
import '../viewer/foil-blade-view.ts';
import './foil-characteristic-table.ts';

const STRIP_WIDTH = 76;
const LEAST_TREND_WIDTH = 70;
const SECTION_HEIGHT = 400;
const STRIP_FACTORS = [10, 20, 50];

/** @summary Answer, map with its margins, plots of the chosen section, 3D and the table of characteristics. */
@customElement('foil-sections-page')
export class FoilSectionsPage extends LitElement {
  static override styles = [base, sectionsPageStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) state!: AppState;
  @state() private magnification = 0;
  @state() private stripFactor = 10;
  /** Width of the column beside the map (px). */
  @state() private marginWidth = 0;
  @query('.map') private mapColumn!: HTMLElement;
  @query('.margin') private marginColumn!: HTMLElement | null;

  private hub = new HubController(
    this,
    () => this.mapColumn,
    (width) => Math.min(460, Math.max(320, width)),
  );

  private observer = new ResizeObserver(() => {
    this.marginWidth = Math.floor(this.marginColumn?.clientWidth ?? 0);
  });

  private watched: Element | null = null;
  private series: TrendSeries[] = [];

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('state') as AppState | undefined;
    const { results } = this.state;
    if (results && before?.results !== results) this.series = trendSeriesOf(results);
  }

  override updated(): void {
    if (this.watched === this.marginColumn) return;
    this.observer.disconnect();
    this.watched = this.marginColumn;
    if (this.watched) this.observer.observe(this.watched);
  }

  override disconnectedCallback(): void {
    this.observer.disconnect();
    this.watched = null;
    super.disconnectedCallback();
  }

  /** Width left for the trend panels beside the strips (px). */
  private get trendRoom(): number {
    return this.marginWidth - 2 * STRIP_WIDTH - 20;
  }

  private get old(): boolean {
    return this.state.stale !== null;
  }

  private margins(results: Results, hub: Hub, pictures: Pictures): TemplateResult {
    const { selection } = this.state;
    const height = hub.geometry.height;
    const { series } = this;
    const trendWidth = Math.max(LEAST_TREND_WIDTH, Math.floor(this.trendRoom / Math.max(1, series.length)));
    const next = STRIP_FACTORS[(STRIP_FACTORS.indexOf(this.stripFactor) + 1) % STRIP_FACTORS.length];
    return html`<div class="strips">
        <div class="between">
          <h2>Edges</h2>
          <button class="small-button" @click=${() => {
            this.stripFactor = next;
          }} aria-label="Edges now ×${this.stripFactor}; change to ×${next}">×${this.stripFactor}</button>
        </div>
        <div class="side-by-side">
          ${(['leading', 'trailing'] as const).map(
            (edge) => html`<foil-edge-strip
              .edge=${edge}
              .results=${results}
              .hub=${hub}
              .selection=${selection}
              .magnification=${this.stripFactor}
              .width=${STRIP_WIDTH}
              .stale=${this.old}
            ></foil-edge-strip>`,
          )}
        </div>
      </div>
      <div class="trends">
        <div class="between">
          <h2>Trends over height <span class="muted">Δ: from nominal</span></h2>
          <foil-plot-menu .picture=${pictures.trends(series)} ?stale=${this.old}></foil-plot-menu>
        </div>
        <div class="side-by-side">
          ${series.map(
            (one) => html`<foil-trend-panel
              .results=${results}
              .series=${aboutNominal(one)}
              .selection=${selection}
              .heightDomain=${hub.heightDomain}
              .height=${height}
              .width=${trendWidth}
              .margins=${{ top: MAP_MARGIN.top, bottom: MAP_MARGIN.bottom }}
              .stale=${this.old}
            ></foil-trend-panel>`,
          )}
        </div>
        <foil-numbers label="trends over height" .numbers=${() => trendNumbers(series)}></foil-numbers>
      </div>`;
  }

  private plots(results: Results, section: SectionResult, hub: Hub, pictures: Pictures): TemplateResult {
    const { selection } = this.state;
    const { limits } = this.hub.layout(results);
    const g = hub.geometry;
    const width = Math.max(280, this.marginWidth || 420);
    return html`<foil-outline-plot
        class="outline"
        .pictures=${pictures}
        data-area
        .results=${results}
        .section=${section}
        .limits=${limits}
        .selection=${selection}
        .width=${Math.max(300, g.plot.width + MAP_MARGIN.left + MAP_MARGIN.right)}
        .height=${210}
        .alongDomain=${hub.alongDomain}
        .stale=${this.old}
      ></foil-outline-plot>
      <foil-section-plot
        class="section"
        .pictures=${pictures}
        data-area
        .results=${results}
        .section=${section}
        .limits=${limits}
        .selection=${selection}
        .magnification=${this.magnification}
        .width=${width}
        .height=${SECTION_HEIGHT}
        .stale=${this.old}
        @foil-magnification=${(e: FoilEvent<'foil-magnification'>) => {
          this.magnification = e.detail.magnification;
        }}
      ></foil-section-plot>
      <foil-edge-plot
        class="edges"
        .pictures=${pictures}
        .results=${results}
        .section=${section}
        .limits=${limits}
        .selection=${selection}
        .width=${Math.max(280, this.hub.width)}
        .stale=${this.old}
      ></foil-edge-plot>`;
  }

  override render(): TemplateResult {
    const { results, drawing, selection, stale } = this.state;
    const answer = results?.answers.sections ?? null;
    const head = html`<foil-answer
      question="Are radii and characteristics within limits?"
      .answer=${answer}
      waiting="Nothing measured yet. Open the files on the Part page."
      .staleReason=${stale ?? ''}
    ></foil-answer>`;
    if (!results) return head;
    const { limits, plain, zoomed } = this.hub.layout(results);
    const pictures = picturesOf(results, usedPlan(this.state), limits);
    const section = chosenSection(results, selection) ?? results.sections[Math.floor(results.sections.length / 2)];
    return html`${head}
      <div class="grid" @foil-view=${this.hub.onView} @foil-limits-change=${this.hub.onTrial}>
        <div class="map" data-area>
          ${
            plain && zoomed
              ? html`<foil-map-panel .results=${results} .pictures=${pictures} .hub=${zoomed} .selection=${selection} .zoom=${this.hub.zoom} .stale=${this.old}></foil-map-panel>`
              : nothing
          }
        </div>
        ${plain ? html`<div class="margin" data-area>${this.margins(results, plain, pictures)}</div>` : nothing}
        <div class="here" data-area>
          <foil-readout .results=${results} .limits=${limits} .selection=${selection}></foil-readout>
          ${
            drawing
              ? html`<foil-blade-view
                .results=${results}
                .drawing=${drawing}
                .limits=${limits}
                .selection=${selection}
                .theme=${this.view.theme}
                .stale=${this.old}
              ></foil-blade-view>`
              : nothing
          }
        </div>
        ${plain && section ? this.plots(results, section, plain, pictures) : nothing}
        <foil-colour-key class="key" .limits=${limits} .trial=${this.hub.trial}></foil-colour-key>
      </div>
      <foil-characteristic-table data-area .results=${results} .selection=${selection} .stale=${this.old}></foil-characteristic-table>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-sections-page': FoilSectionsPage;
  }
}
