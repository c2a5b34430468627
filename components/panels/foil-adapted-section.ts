import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { AdaptedEdge, AdaptedSection } from '../../src/model/adapt-results.ts';
import type { Results } from '../../src/model/results.ts';
import type { Value } from '../../src/model/value.ts';
import { formText, monotoneText, setbackText, thicknessTexts } from '../../src/report/adapt-text.ts';
import type { AdaptReply } from '../../src/worker/messages.ts';
import { formatNumber, showResult } from '../controls/format.ts';
import { SIDE_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { shownAdapted } from '../state/review-adapt.ts';
import { nearestSection, type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';
import '../controls/foil-verdict.ts';
import '../plots/foil-adapted-edges.ts';

/**
 * @summary One adapted section: its edges drawn over nominal and blank, and what was measured of them.
 * @fires foil-select - another section
 */
@customElement('foil-adapted-section')
export class FoilAdaptedSection extends LitElement {
  static override styles = [
    base,
    tableStyles,
    css`
      .row h3 {
        margin: 0;
      }
      .head {
        margin: 12px 0 6px;
      }
      thead th {
        white-space: normal;
        vertical-align: bottom;
        padding-bottom: 3px;
        line-height: 1.25;
      }
      .reason {
        white-space: normal;
        min-width: 14em;
      }
      foil-adapted-edges {
        margin-bottom: 10px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) reply!: AdaptReply;
  @property({ attribute: false }) selection: Selection = {};
  @property({ type: Number }) width = 900;
  @property({ type: Boolean, reflect: true }) stale = false;

  private choose(section: AdaptedSection | undefined): void {
    if (section) emit(this, 'foil-select', selectPlace(this.results, section.height, this.selection.along ?? 0));
  }

  private value({ value, u, unit }: Value, signed = false): string {
    return showResult(value, { unit: unit === '' ? '1' : unit, u, signed }, this.view.mark);
  }

  private marked(text: string): string {
    return text.replaceAll('.', this.view.mark);
  }

  private row(edge: AdaptedEdge): TemplateResult {
    return html`<tr>
      <th scope="row">${SIDE_WORDS[edge.edge]}</th>
      <td><foil-verdict .verdict=${edge.verdict}></foil-verdict></td>
      <td>${formText(edge)}</td>
      <td class="numeric">${this.value(edge.ratio)}</td>
      <td class="numeric">${this.marked(setbackText(edge))}</td>
      <td class="numeric">${this.value(edge.noseRadius)}</td>
      <td class="numeric">${this.value(edge.noseOffset, true)}</td>
      <td>${thicknessTexts(edge).map((text) => html`<div>${this.marked(text)}</div>`)}</td>
      <td class="numeric">${formatNumber(edge.tangentBreakDeg, 3, this.view.mark)}</td>
      <td>${monotoneText(edge)}</td>
      <td class="reason">${edge.reason ?? ''}</td>
    </tr>`;
  }

  private table({ edges }: AdaptedSection): TemplateResult | typeof nothing {
    if (edges.length === 0) return nothing;
    return html`<div class="scroll" tabindex="0" role="region" aria-label="Edges of the adapted section">
      <table>
        <thead>
          <tr>
            <th scope="col">edge</th>
            <th scope="col">verdict</th>
            <th scope="col">form</th>
            <th scope="col" class="numeric">ratio</th>
            <th scope="col" class="numeric">set-backs, suction / pressure, mm</th>
            <th scope="col" class="numeric">nose radius, mm</th>
            <th scope="col" class="numeric">nose off the middle, mm</th>
            <th scope="col">thickness against nominal at set-back, mm</th>
            <th scope="col" class="numeric">tangent break, °</th>
            <th scope="col">curvature rises to the nose</th>
            <th scope="col">reason</th>
          </tr>
        </thead>
        <tbody>
          ${edges.map((edge) => this.row(edge))}
        </tbody>
      </table>
    </div>`;
  }

  private steps(shown: AdaptedSection): TemplateResult {
    const { sections } = this.reply.adapt;
    const at = sections.indexOf(shown);
    const name = ({ id, height }: AdaptedSection): string => `${id}, ${formatNumber(height, 2, this.view.mark)} mm`;
    const step = (to: number, word: string): TemplateResult =>
      html`<button ?disabled=${!sections[to]} aria-label="${word} adapted section" @click=${() => this.choose(sections[to])}>
        ${word}
      </button>`;
    return html`<div class="row head">
      <h3>Section</h3>
      <select
        aria-label="Adapted section"
        @change=${(e: Event) => this.choose(sections[(e.target as HTMLSelectElement).selectedIndex])}
      >
        ${sections.map((section) => html`<option ?selected=${section === shown}>${name(section)}</option>`)}
      </select>
      ${step(at - 1, 'Previous')} ${step(at + 1, 'Next')}
      <span class="small">chord <span class="number">${this.value(shown.chord)} mm</span></span>
      <span class="small"><foil-verdict .verdict=${shown.verdict}></foil-verdict></span>
      ${shown.reason === undefined ? nothing : html`<span class="small">${shown.reason}</span>`}
    </div>`;
  }

  private drawing(shown: AdaptedSection): TemplateResult | typeof nothing {
    const outline = this.reply.outlines.find(({ id, height }) => id === shown.id && height === shown.height);
    const section = nearestSection(this.results.sections, shown.height);
    if (!outline || !section) return nothing;
    return html`<foil-adapted-edges
      .adapted=${shown}
      .outline=${outline.points}
      .section=${section}
      .width=${this.width}
      ?stale=${this.stale}
    ></foil-adapted-edges>`;
  }

  override render(): TemplateResult | typeof nothing {
    const shown = shownAdapted(this.reply.adapt, this.results, this.selection);
    if (!shown) return nothing;
    return html`${this.steps(shown)} ${this.drawing(shown)} ${this.table(shown)}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-adapted-section': FoilAdaptedSection;
  }
}
