import { consume } from '@lit/context';
import { html, LitElement, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import type { DatumResult } from '../../src/model/stock-results.ts';
import { formatNumber } from '../controls/format.ts';
import { SIDE_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';

/**
 * @summary A datum fit: its six targets, how sure the placement is, and where a target's uncertainty grows most.
 * @fires foil-select - the place of the largest growth
 */
@customElement('foil-datum')
export class FoilDatum extends LitElement {
  static override styles = [base, tableStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) datum!: DatumResult;
  @property({ type: Boolean, reflect: true }) stale = false;

  private triple(values: readonly number[], decimals: number): string {
    return values.map((value) => formatNumber(value, decimals, this.view.mark)).join(' / ');
  }

  private growth(): TemplateResult {
    const { factor, place } = this.datum.amplification;
    const words = `A target’s uncertainty grows ${formatNumber(factor, 2, this.view.mark)} times at most`;
    if (place === null) return html`<p class="small">${words}.</p>`;
    return html`<p class="small">
      ${words}: ${SIDE_WORDS[place.side]}, ${formatNumber(place.height, 1, this.view.mark)} mm high.
      <button
        aria-label="Show where a target’s uncertainty grows most"
        @click=${() => emit(this, 'foil-select', selectPlace(this.results, place.height, place.along))}
      >
        Show
      </button>
    </p>`;
  }

  override render(): TemplateResult {
    const { datum } = this;
    const { mark } = this.view;
    return html`<h2 id="datum">Datum fit</h2>
      <div class="scroll" tabindex="0" role="region" aria-labelledby="datum">
        <table>
          <thead>
            <tr>
              <th scope="col">target</th>
              <th scope="col" class="numeric">X / Y / Z, mm</th>
              <th scope="col" class="numeric">normal</th>
              <th scope="col" class="numeric">left over, mm</th>
              <th scope="col" class="numeric">u, mm</th>
            </tr>
          </thead>
          <tbody>
            ${datum.targets.map(
              ({ id, point, normal, residual, u }) => html`<tr>
                <th scope="row">${id}</th>
                <td class="numeric">${this.triple(point, 3)}</td>
                <td class="numeric">${this.triple(normal, 3)}</td>
                <td class="numeric">${formatNumber(residual, 5, mark, true)}</td>
                <td class="numeric">${formatNumber(u, 4, mark)}</td>
              </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <p class="small">
        Standard uncertainty of the placement: X, Y, Z ${this.triple(datum.uShift, 4)} mm; about X, Y, Z
        ${this.triple(datum.uRotationDeg, 4)}°. Condition of the six targets ${formatNumber(datum.condition, 1, mark)}.
      </p>
      ${this.growth()}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-datum': FoilDatum;
  }
}
