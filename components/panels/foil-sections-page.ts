import { consume } from '@lit/context';
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { ruleOf } from '../../src/judge/zones.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { saveFile } from '../controls/save-file.ts';
import type { FoilEvent } from '../events.ts';
import { ColumnWidths } from '../plots/column-widths.ts';
import { type Hub, MAP_MARGIN } from '../plots/hub.ts';
import { HubController } from '../plots/hub-controller.ts';
import { type Pictures, picturesOf } from '../plots/pictures.ts';
import { stripsOf } from '../plots/strip-geometry.ts';
import { type AppState, usedPlan } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { planWith } from '../state/definition-choice.ts';
import { outputName } from '../state/report-answer.ts';
import { shownSection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { FoilDefinitionList } from './foil-definition-list.ts';
import type { FoilRowDialog } from './foil-row-dialog.ts';
import { sectionsPageStyles } from './sections-page-styles.ts';
import '../controls/foil-answer.ts';
import '../controls/foil-colour-key.ts';
import '../controls/foil-readout.ts';
import '../plots/foil-edge-plot.ts';
import '../plots/foil-map-panel.ts';
import '../plots/foil-outline-plot.ts';
import '../plots/foil-section-plot.ts';
import '../plots/foil-section-strip.ts';
import '../viewer/foil-blade-view.ts';
import './foil-characteristic-table.ts';
import './foil-definition-list.ts';
import './foil-edge-panel.ts';
import './foil-fault-list.ts';
import './foil-map-margins.ts';
import './foil-row-dialog.ts';

const SECTION_HEIGHT = 400;

/** @summary Answer, map with its margins, plots of the chosen section, 3D and the table of characteristics. */
@customElement('foil-sections-page')
export class FoilSectionsPage extends LitElement {
  static override styles = [base, sectionsPageStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) state!: AppState;
  @state() private magnification = 0;
  @query('.map') private mapColumn!: HTMLElement;
  @query('foil-row-dialog') private rowDialog!: FoilRowDialog;
  @query('foil-definition-list') private definitionList!: FoilDefinitionList;
  @query('.margin') private marginColumn!: HTMLElement | null;
  @query('.edges') private edges!: HTMLElement | null;

  private hub = new HubController(
    this,
    () => this.mapColumn,
    (width) => Math.min(460, Math.max(320, width)),
  );

  private columns = new ColumnWidths(this, () => [this.marginColumn, this.edges]);

  private get old(): boolean {
    return this.state.stale !== null;
  }

  private plots(results: Results, section: SectionResult, hub: Hub, pictures: Pictures): TemplateResult {
    const { selection } = this.state;
    const { limits } = this.hub.layout(results);
    const g = hub.geometry;
    const [marginWidth, edgesColumn] = this.columns.widths;
    const width = Math.max(280, marginWidth || 420);
    const edgesWidth = Math.max(280, edgesColumn || this.hub.width);
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
      <div class="section">
        <foil-section-plot
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
        ${stripsOf(section).map(
          (strip) => html`<foil-section-strip
            data-area
            .pictures=${pictures}
            .results=${results}
            .section=${section}
            .strip=${strip}
            .selection=${selection}
            .width=${width}
            .stale=${this.old}
          ></foil-section-strip>`,
        )}
      </div>
      <div class="edges">
        <foil-edge-plot
          .pictures=${pictures}
          .results=${results}
          .section=${section}
          .limits=${limits}
          .selection=${selection}
          .width=${edgesWidth}
          .stale=${this.old}
        ></foil-edge-plot>
        ${(['leading', 'trailing'] as const).map(
          (edge) => html`<foil-edge-panel
            data-area
            .edge=${edge}
            .results=${results}
            .section=${section}
            .definitions=${this.state.definitions}
            .trial=${this.state.trials[edge] ?? null}
            .width=${edgesWidth}
            .stale=${this.old}
          ></foil-edge-panel>`,
        )}
      </div>`;
  }

  private how = (event: FoilEvent<'foil-how'>): void => {
    event.stopPropagation();
    void this.rowDialog.show(event.detail.characteristicId);
  };

  private savePlan = (event: Event): void => {
    event.stopPropagation();
    const plan = usedPlan(this.state);
    const text = `${JSON.stringify(planWith(plan, this.state.chosen), null, 2)}\n`;
    saveFile(`${outputName(this.state.results!, plan)}-plan.json`, new Blob([text], { type: 'application/json' }));
  };

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('foil-how', this.how as EventListener);
    this.addEventListener('foil-save-plan', this.savePlan);
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
    const section = shownSection(results, selection);
    const { definitions, trials, earlier } = this.state;
    return html`${head}
      <div class="grid" @foil-view=${this.hub.onView} @foil-limits-change=${this.hub.onTrial}>
        <div class="map" data-area>
          ${
            plain && zoomed
              ? html`<foil-map-panel .results=${results} .pictures=${pictures} .hub=${zoomed} .selection=${selection} .zoom=${this.hub.zoom} .stale=${this.old}></foil-map-panel>`
              : nothing
          }
        </div>
        ${
          plain
            ? html`<foil-map-margins
              class="margin"
              data-area
              .results=${results}
              .hub=${plain}
              .pictures=${pictures}
              .selection=${selection}
              .width=${this.columns.widths[0] ?? 0}
              .stale=${this.old}
            ></foil-map-margins>`
            : nothing
        }
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
      <foil-fault-list data-area .results=${results} .selection=${selection} .stale=${this.old}></foil-fault-list>
      <foil-characteristic-table
        data-area
        .results=${results}
        .selection=${selection}
        .stale=${this.old}
        @foil-definitions=${() => this.definitionList.show()}
      ></foil-characteristic-table>
      <foil-definition-list
        .results=${results}
        .definitions=${definitions}
        .chosen=${this.state.chosen}
        .selection=${selection}
      ></foil-definition-list>
      <foil-row-dialog
        .results=${results}
        .definitions=${definitions}
        .rule=${ruleOf(usedPlan(this.state))}
        .trial=${trials.row ?? null}
        .earlier=${earlier}
        .stale=${this.old}
      ></foil-row-dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-sections-page': FoilSectionsPage;
  }
}
