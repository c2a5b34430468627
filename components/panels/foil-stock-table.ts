import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Place, Results } from '../../src/model/results.ts';
import type { HeldBy, ShortArea, StockZoneResult } from '../../src/model/stock-results.ts';
import { formatU, percentText } from '../../src/report/format-number.ts';
import { formatNumber, showResult } from '../controls/format.ts';
import { AREA_WORDS, AS_FORGED_WORDS, SIDE_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';
import '../controls/foil-verdict.ts';
import './foil-datum.ts';

/**
 * @summary Areas short of stock, the deepest first; the places that hold the placement; the stock of every zone.
 * @fires foil-select - the place of an area, a zone's least stock, or a place that holds
 */
@customElement('foil-stock-table')
export class FoilStockTable extends LitElement {
  static override styles = [
    base,
    tableStyles,
    css`
      section + section {
        margin-top: 18px;
      }
      .reason {
        white-space: normal;
        min-width: 16em;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) selection: Selection = {};
  /** True while the numbers are those of a trial by cells. */
  @property({ type: Boolean }) trial = false;
  @property({ type: Boolean, reflect: true }) stale = false;

  private mm(value: number | null, u: number | null = null): string {
    return showResult(value, { unit: 'mm', u, signed: true }, this.view.mark);
  }

  private placeText({ height, along, side }: Place): string {
    const { mark } = this.view;
    return `${SIDE_WORDS[side]}, ${formatNumber(height, 1, mark)} mm high, ${formatNumber(Math.abs(along), 1, mark)} mm from the leading edge`;
  }

  private show(place: Place | null, what: string): TemplateResult {
    if (place === null) return html`<td></td>`;
    return html`<td>
      <button
        aria-label="Show ${what}"
        @click=${() => emit(this, 'foil-select', selectPlace(this.results, place.height, place.along))}
      >
        Show
      </button>
    </td>`;
  }

  private isHere(place: Place | null): boolean {
    return place !== null && place.height === this.selection.height && place.along === this.selection.along;
  }

  private areaRow(area: ShortArea, index: number): TemplateResult {
    const { mark } = this.view;
    return html`<tr aria-current=${this.isHere(area.place)}>
      <td class="numeric">${index + 1}</td>
      <th scope="row">${AREA_WORDS[area.kind]}</th>
      <td>${this.placeText(area.place)}</td>
      <td class="numeric">${this.mm(area.least.value, area.least.u)}</td>
      <td class="numeric">${formatU(area.least.u).replace('.', mark)}</td>
      <td class="numeric">${formatNumber(area.depth, 3, mark)}</td>
      <td class="numeric">${formatNumber(area.areaMm2, 1, mark)}</td>
      <td class="numeric">${formatNumber(area.fromHeight, 1, mark)} to ${formatNumber(area.toHeight, 1, mark)}</td>
      ${this.show(area.place, `the place of area ${index + 1}`)}
    </tr>`;
  }

  private areas(): TemplateResult {
    const { areas } = this.results.stock!;
    const head = html`<h2 id="areas">Short of stock${areas.length > 0 ? ` ${areas.length}` : nothing}</h2>`;
    if (this.trial)
      return html`${head}<p class="small muted">Areas are found on all points: confirm the trial first.</p>`;
    if (areas.length === 0) return html`${head}<p class="small muted">No measured area has less than wanted.</p>`;
    return html`${head}
      <div class="scroll" tabindex="0" role="region" aria-labelledby="areas">
        <table>
          <thead>
            <tr>
              <th scope="col" class="numeric">no.</th>
              <th scope="col">kind</th>
              <th scope="col">place of the least</th>
              <th scope="col" class="numeric">least, mm</th>
              <th scope="col" class="numeric">U (k = 2), mm</th>
              <th scope="col" class="numeric">short by, mm</th>
              <th scope="col" class="numeric">area, mm²</th>
              <th scope="col" class="numeric">heights, mm</th>
              <td></td>
            </tr>
          </thead>
          <tbody>
            ${areas.map((area, i) => this.areaRow(area, i))}
          </tbody>
        </table>
      </div>`;
  }

  private holds(): TemplateResult | typeof nothing {
    const { heldBy, levels } = this.results.stock!.placement;
    if (this.trial || heldBy.length === 0) return nothing;
    const row = (held: HeldBy, i: number): TemplateResult => html`<tr aria-current=${this.isHere(held.place)}>
      <th scope="row">${this.placeText(held.place)}</th>
      <td>${held.zone}</td>
      <td>${held.limit === 'least' ? 'too little stock' : 'too much stock'}</td>
      <td class="numeric">${this.mm(held.stock)}</td>
      <td class="numeric">${percentText(held.weight)}</td>
      ${this.show(held.place, `place ${i + 1} that holds the placement`)}
    </tr>`;
    return html`<section>
      <h2 id="holds">What holds this placement</h2>
      <div class="scroll" tabindex="0" role="region" aria-labelledby="holds">
        <table>
          <thead>
            <tr>
              <th scope="col">place</th>
              <th scope="col">zone</th>
              <th scope="col">held by</th>
              <th scope="col" class="numeric">stock, mm</th>
              <th scope="col" class="numeric">share of the hold</th>
              <td></td>
            </tr>
          </thead>
          <tbody>
            ${heldBy.map(row)}
          </tbody>
        </table>
      </div>
      ${levels.length > 0 ? html`<p class="small muted">Spare stock by zone, the tightest first: ${levels.map(({ zone, spare }) => `${zone} ${this.mm(spare)} mm`).join(', ')}.</p>` : nothing}
    </section>`;
  }

  private datum(): TemplateResult | typeof nothing {
    const { datum } = this.results.stock!;
    if (this.trial || !datum) return nothing;
    return html`<section><foil-datum .results=${this.results} .datum=${datum} ?stale=${this.stale}></foil-datum></section>`;
  }

  private zoneRow(zone: StockZoneResult): TemplateResult {
    const { mark } = this.view;
    const { wanted } = zone;
    const upper = wanted.most === null ? '' : ` to ${formatNumber(wanted.most, 2, mark)}`;
    return html`<tr aria-current=${this.isHere(zone.least.place)}>
      <th scope="row">${zone.zone}</th>
      <td class="numeric">${formatNumber(wanted.least, 2, mark)}${upper}</td>
      <td class="numeric">${this.mm(zone.least.value, zone.least.u)}</td>
      <td class="numeric">${this.mm(zone.most.value, zone.most.u)}</td>
      <td class="numeric">${this.mm(zone.mean.value, zone.mean.u)}</td>
      <td class="numeric">${zone.percentiles ? `${this.mm(zone.percentiles.p5)} / ${this.mm(zone.percentiles.p50)} / ${this.mm(zone.percentiles.p95)}` : '–'}</td>
      <td class="numeric">${zone.shortFraction === null ? '–' : percentText(zone.shortFraction)}</td>
      <td class="numeric">${formatNumber(zone.volumeMm3.value, 1, mark)}</td>
      <td class="numeric">${percentText(zone.coverage)}</td>
      <td title=${zone.reason ?? ''}><foil-verdict .verdict=${zone.verdict}></foil-verdict></td>
      ${this.show(zone.least.place, `least stock of ${zone.zone}`)}
      <td class="reason"><strong>${AS_FORGED_WORDS[zone.asForged.verdict]}.</strong> ${zone.asForged.reason}</td>
    </tr>`;
  }

  private zones(): TemplateResult {
    return html`<h2 id="zones">Stock by zone</h2>
      <div class="scroll" tabindex="0" role="region" aria-labelledby="zones">
        <table>
          <thead>
            <tr>
              <th scope="col">zone</th>
              <th scope="col" class="numeric">wanted, mm</th>
              <th scope="col" class="numeric">least, mm</th>
              <th scope="col" class="numeric">most, mm</th>
              <th scope="col" class="numeric">mean, mm</th>
              <th scope="col" class="numeric">5 / 50 / 95 %, mm</th>
              <th scope="col" class="numeric">short</th>
              <th scope="col" class="numeric">volume, mm³</th>
              <th scope="col" class="numeric">measured</th>
              <th scope="col">verdict</th>
              <td></td>
              <th scope="col">may stay as forged</th>
            </tr>
          </thead>
          <tbody>
            ${this.results.stock!.zones.map((zone) => this.zoneRow(zone))}
          </tbody>
        </table>
      </div>`;
  }

  override render(): TemplateResult {
    return html`<section>${this.areas()}</section>
      ${this.holds()} ${this.datum()}
      ${this.trial ? nothing : html`<section>${this.zones()}</section>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-stock-table': FoilStockTable;
  }
}
