import { consume } from '@lit/context';
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { PLACEMENT_WORDS } from '../controls/words.ts';
import { emit, type FoilEvent } from '../events.ts';
import { ColumnWidths } from '../plots/column-widths.ts';
import { type Hub, MAP_MARGIN } from '../plots/hub.ts';
import { HubController } from '../plots/hub-controller.ts';
import { type Pictures, picturesOf } from '../plots/pictures.ts';
import { type AppState, filesOf } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { outputName, partName } from '../state/report-answer.ts';
import { onTrial } from '../state/review-state.ts';
import { trialMatrix } from '../state/review-trial.ts';
import { shownSection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { FoilOffsetCard } from './foil-offset-card.ts';
import { offsetsInBothOrders } from './offset-orders.ts';
import { stockPageStyles } from './stock-page-styles.ts';
import { TrialController } from './trial-controller.ts';
import '../controls/foil-answer.ts';
import '../controls/foil-colour-key.ts';
import '../controls/foil-readout.ts';
import '../plots/foil-map-panel.ts';
import '../plots/foil-outline-plot.ts';
import '../plots/foil-section-plot.ts';
import '../viewer/foil-blade-view.ts';
import './foil-adapt.ts';
import './foil-compare.ts';
import './foil-map-margins.ts';
import './foil-offset-card.ts';
import './foil-stock-actions.ts';
import './foil-stock-align.ts';
import './foil-stock-table.ts';

const QUESTION = 'Is there stock everywhere, and how is the blank to be placed?';
const WAITING =
  'No blank is reviewed yet: the finished shape goes in as nominal, the blank as measured, on the Part page.';
const SECTION_HEIGHT = 300;
/** @summary Stock of a blank: answer, map with its margins, placement to try, short areas, kept results, work offset. */
@customElement('foil-stock-page')
export class FoilStockPage extends LitElement {
  static override styles = [base, stockPageStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) state!: AppState;
  @state() private magnification = 0;
  @state() private pair = { from: '', to: '' };
  @query('.map') private mapColumn!: HTMLElement | null;
  @query('.margin') private marginColumn!: HTMLElement | null;
  @query('.align') private alignColumn!: HTMLElement | null;
  @query('foil-offset-card') private card!: FoilOffsetCard;

  private trial = new TrialController(this, () => this.state.review);

  private hub = new HubController(
    this,
    () => this.mapColumn,
    (width) => Math.min(430, Math.max(300, width)),
  );
  private columns = new ColumnWidths(this, () => [this.marginColumn, this.alignColumn]);

  private confirm = (event: Event): void => {
    event.stopPropagation();
    const { reply, trial } = this.state.review;
    if (!reply) return;
    const matrix = trial ? trialMatrix(reply, trial) : reply.results.alignment!.matrix;
    emit(this, 'foil-review', { act: 'confirm', matrix });
  };

  private stop = (event: Event): void => {
    event.stopPropagation();
    emit(this, 'foil-review', { act: 'stop' });
  };

  /** Prints the card alone: the document is marked, and everything else is left out of print. */
  private print = (event: Event): void => {
    event.stopPropagation();
    const { dataset } = document.documentElement;
    dataset.print = 'card';
    window.print();
    delete dataset.print;
  };

  private margins(results: Results, hub: Hub, pictures: Pictures): TemplateResult {
    return html`<foil-map-margins
      class="margin"
      data-area
      .results=${results}
      .hub=${hub}
      .pictures=${pictures}
      .selection=${this.state.selection}
      .width=${this.columns.widths[0] ?? 0}
      .stale=${this.old}
    ></foil-map-margins>`;
  }

  private get old(): boolean {
    return this.state.review.stale !== null;
  }

  /** The chosen section in the kept results. */
  private keptSections({ id }: SectionResult): { name: string; section: SectionResult }[] {
    return this.state.review.kept.flatMap(({ name, results }) => {
      const found = results.sections.find((s) => s.id === id);
      return found ? [{ name, section: found }] : [];
    });
  }

  private plots(results: Results, section: SectionResult, hub: Hub, pictures: Pictures): TemplateResult {
    const { selection } = this.state;
    const { limits } = this.hub.layout(results);
    return html`<foil-outline-plot
        class="outline"
        data-area
        .pictures=${pictures}
        .results=${results}
        .section=${section}
        .limits=${limits}
        .selection=${selection}
        .width=${Math.max(300, hub.geometry.plot.width + MAP_MARGIN.left + MAP_MARGIN.right)}
        .height=${220}
        .alongDomain=${hub.alongDomain}
        .kept=${this.keptSections(section)}
        .stale=${this.old}
      ></foil-outline-plot>
      <foil-section-plot
        class="section"
        data-area
        .pictures=${pictures}
        .results=${results}
        .section=${section}
        .limits=${limits}
        .selection=${selection}
        .magnification=${this.magnification}
        .width=${Math.max(260, this.columns.widths[0] || 420)}
        .height=${SECTION_HEIGHT}
        .stale=${this.old}
        @foil-magnification=${(e: FoilEvent<'foil-magnification'>) => {
          this.magnification = e.detail.magnification;
        }}
      ></foil-section-plot>`;
  }

  private body(results: Results): TemplateResult {
    const { review, selection } = this.state;
    const { limits, plain, zoomed } = this.hub.layout(results);
    const plan = filesOf(this.state, 'plan')[0]?.plan?.plan ?? null;
    const trial = onTrial(review);
    const pictures = picturesOf(results, plan, limits, trial ? 'Trial' : '');
    const section = shownSection(results, selection);
    const { rested } = this.trial;
    return html`<div class="grid" @foil-view=${this.hub.onView} @foil-limits-change=${this.hub.onTrial}>
        <div class="map" data-area>
          ${
            plain && zoomed
              ? html`<foil-map-panel
                .results=${results}
                .pictures=${pictures}
                .hub=${zoomed}
                .selection=${selection}
                .zoom=${this.hub.zoom}
                .mark=${trial ? 'Trial' : ''}
                .stale=${this.old}
              ></foil-map-panel>`
              : nothing
          }
        </div>
        ${plain ? this.margins(results, plain, pictures) : nothing}
        <foil-stock-align
          class="align"
          data-area
          .review=${review}
          .curves=${rested?.curves ?? []}
          .shortCurve=${rested?.short ?? { x: [], y: [] }}
          ?targets=${plan?.datumTargets !== undefined}
          .width=${Math.max(220, this.columns.widths[1] || 320)}
          ?stale=${this.old}
          @foil-confirm=${this.confirm}
        ></foil-stock-align>
        <foil-colour-key class="key" stock .limits=${limits} .trial=${this.hub.trial}></foil-colour-key>
        ${plain && section ? this.plots(results, section, plain, pictures) : nothing}
        <foil-readout
          class="here"
          data-area
          .results=${results}
          .limits=${limits}
          .selection=${selection}
        ></foil-readout>
        ${
          rested
            ? html`<foil-blade-view
          class="view"
          data-area
          .results=${review.reply!.results}
          .drawing=${rested.drawing}
          .limits=${rested.limits}
          .selection=${selection}
          .theme=${this.view.theme}
          .stale=${this.old}></foil-blade-view>`
            : nothing
        }
      </div>
      <foil-stock-table
        class="ruled"
        data-area
        .results=${results}
        .selection=${selection}
        ?trial=${trial}
        ?stale=${this.old}
      ></foil-stock-table>
      <foil-adapt
        class="ruled"
        data-area
        .review=${review}
        .selection=${selection}
        .file=${outputName(results, plan)}
        @foil-cancel=${this.stop}
      ></foil-adapt>
      <foil-compare
        class=${review.kept.length > 0 ? 'ruled' : ''}
        data-area
        .kept=${review.kept}
        .selection=${selection}
        .from=${this.pair.from}
        .to=${this.pair.to}
        @foil-choose=${(e: FoilEvent<'foil-choose'>) => {
          this.pair = e.detail;
        }}
      ></foil-compare>
      <div class="warnings">
        ${results.warnings.map(
          (w) =>
            html`<foil-message kind="warning" .what=${w.message} .where=${w.where ?? ''} .remedy=${w.remedy ?? ''}></foil-message>`,
        )}
      </div>
      <foil-offset-card
        .offsets=${offsetsInBothOrders(results.stock!.offsets, results.stock!.placement.matrix)}
        .named=${partName(plan) ?? ''}
        .file=${outputName(results, plan)}
        .method=${PLACEMENT_WORDS[results.stock!.placement.method]}
        @foil-print=${this.print}
      ></foil-offset-card>`;
  }

  override render(): TemplateResult {
    const { review } = this.state;
    const { results } = this.trial;
    return html`<foil-answer
        .question=${QUESTION}
        .answer=${results?.answers.stock ?? null}
        .waiting=${review.job.state === 'working' ? `${review.job.what}.` : WAITING}
        .staleReason=${review.stale ?? ''}
        again="review the blank again"
      ></foil-answer>
      <foil-stock-actions
        data-area
        .state=${this.state}
        .results=${results}
        @foil-cancel=${this.stop}
        @foil-offset=${() => this.card.show()}
      ></foil-stock-actions>
      ${results ? this.body(results) : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-stock-page': FoilStockPage;
  }
}
