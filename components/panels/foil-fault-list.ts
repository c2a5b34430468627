import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Fault, Results } from '../../src/model/results.ts';
import { formatU } from '../../src/report/format-number.ts';
import { formatNumber, showResult } from '../controls/format.ts';
import { FAULT_WORDS, SIDE_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';

/**
 * @summary Local faults of the surface, the deepest first; their numbers stand on the map.
 * @fires foil-select - the place of a fault
 */
@customElement('foil-fault-list')
export class FoilFaultList extends LitElement {
  static override styles = [
    base,
    tableStyles,
    css`
      .scroll {
        max-height: 40vh;
        border-top: 1px solid var(--foil-edge);
        border-bottom: 1px solid var(--foil-edge);
      }
      .about {
        white-space: normal;
        color: var(--foil-muted);
        min-width: 14em;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) selection: Selection = {};
  @property({ type: Boolean, reflect: true }) stale = false;

  private isHere({ place }: Fault): boolean {
    return place.height === this.selection.height && place.along === this.selection.along;
  }

  private row(fault: Fault, index: number): TemplateResult {
    const { mark } = this.view;
    const { place } = fault;
    const length = (value: number): string => formatNumber(value, 2, mark);
    return html`<tr aria-current=${this.isHere(fault)}>
      <td class="numeric">${index + 1}</td>
      <th scope="row">${FAULT_WORDS[fault.kind]}</th>
      <td>${SIDE_WORDS[place.side]}, ${length(place.height)} mm high, ${length(Math.abs(place.along))} mm from the leading edge</td>
      <td class="numeric">${showResult(fault.depth, { unit: 'mm', u: fault.u, signed: true }, mark)}</td>
      <td class="numeric">${formatU(fault.u).replace('.', mark)}</td>
      <td class="numeric">${length(fault.width)}</td>
      <td class="numeric">${length(fault.length)}</td>
      <td>
        <button
          aria-label="Show ${index + 1}: ${FAULT_WORDS[fault.kind]}, ${SIDE_WORDS[place.side]}"
          @click=${() => emit(this, 'foil-select', selectPlace(this.results, place.height, place.along))}
        >
          Show
        </button>
      </td>
      <td class="about">${fault.message}</td>
    </tr>`;
  }

  override render(): TemplateResult {
    const { faults } = this.results;
    const head = html`<h2 id="head">Faults of the surface${faults?.length ? ` ${faults.length}` : nothing}</h2>`;
    if (!faults)
      return html`${head}<p class="small muted">None were looked for: that needs a nominal shape and a scan.</p>`;
    if (faults.length === 0)
      return html`${head}<p class="small muted">No nick, bump or flat stands out of the noise.</p>`;
    return html`${head}
      <div class="scroll" tabindex="0" role="region" aria-labelledby="head">
        <table>
          <thead>
            <tr>
              <th scope="col" class="numeric">no.</th>
              <th scope="col">kind</th>
              <th scope="col">place</th>
              <th scope="col" class="numeric">depth, mm</th>
              <th scope="col" class="numeric">U (k = 2), mm</th>
              <th scope="col" class="numeric">width, mm</th>
              <th scope="col" class="numeric">length, mm</th>
              <td></td>
              <th scope="col">remark</th>
            </tr>
          </thead>
          <tbody>
            ${faults.map((fault, i) => this.row(fault, i))}
          </tbody>
        </table>
      </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-fault-list': FoilFaultList;
  }
}
