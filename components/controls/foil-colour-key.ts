import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { INK, RAMP } from '../../src/report/colours.ts';
import { colourKeyGeometry, type KeyCell } from '../../src/report/svg/colour-key-geometry.ts';
import { emit, type FoilEvent } from '../events.ts';
import type { ShownLimits } from '../plots/hub.ts';
import { patternDefs } from '../plots/plot-styles.ts';
import { base } from '../styles/base.ts';
import './foil-number.ts';

/**
 * @summary What the colours, stripes and dots mean; the steps are tied to the limits, never to the data.
 * @fires foil-limits-change - half width of the trial limits (mm), where the plan gives none
 */
@customElement('foil-colour-key')
export class FoilColourKey extends LitElement {
  static override styles = [
    base,
    css`
      svg {
        display: block;
        font-size: 11px;
        max-width: 100%;
        height: auto;
      }
      text {
        fill: currentColor;
      }
    `,
  ];

  @property({ attribute: false }) limits!: ShownLimits;
  /** Half width of the trial limits (mm). */
  @property({ type: Number }) trial = 0.05;
  @property({ type: Number }) width = 620;
  /** True where the steps are those of a blank's stock. */
  @property({ type: Boolean }) stock = false;

  private cell(cell: KeyCell, y: number, height: number) {
    const rect = (fill: string): unknown =>
      svg`<rect x=${cell.x} y=${y} width=${cell.width} height=${height} fill=${fill}></rect>`;
    const label = svg`<text x=${cell.x + cell.width / 2} y=${y + height + 13} text-anchor="middle">${cell.text}</text>
      ${cell.head ? svg`<text x=${cell.x} y=${y - 5}>${this.stock ? cell.head.replace('less than allowed', 'short') : cell.head}</text>` : nothing}`;
    if (cell.step === 'not-measured') {
      return svg`${rect('url(#dots)')}<rect x=${cell.x} y=${y} width=${cell.width} height=${height} fill="none" stroke="var(--foil-map-line)"></rect>${label}`;
    }
    const { colour, ink } = RAMP[cell.step + 4];
    const id = `${cell.step < 0 ? 'less' : 'more'}-${ink === INK ? 'dark' : 'pale'}`;
    return svg`${rect(colour)}${ink === null ? nothing : rect(`url(#${id})`)}${label}`;
  }

  private changed(event: FoilEvent<'foil-change'>): void {
    event.stopPropagation();
    emit(this, 'foil-limits-change', { trial: event.detail.value });
  }

  override render(): TemplateResult {
    const g = colourKeyGeometry({ width: this.width, limits: this.limits.pairs, assumed: this.limits.trial });
    return html`<p class="small">${this.stock ? g.title.replace('Limits', 'Stock wanted') : g.title}</p>
      <svg viewBox="0 8 ${g.width} ${g.height - 8}" width=${g.width} role="img" aria-label="Colour key: blue stripes are ${this.stock ? 'short of stock' : 'less material than allowed'}, orange-brown stripes more, pale grey within limits, dots not measured">
        ${patternDefs()} ${g.cells.map((c) => this.cell(c, g.cellY, g.cellHeight))}
        <rect x=${g.cells[0].x} y=${g.cellY} width=${9 * g.cells[0].width} height=${g.cellHeight} fill="none" stroke="var(--foil-map-line)"></rect>
      </svg>
      ${
        this.limits.trial
          ? html`<div class="row small">
            <span><strong>Trial</strong> limits ±</span>
            <foil-number
              label="Trial limits, plus or minus"
              unit="mm"
              .value=${this.trial}
              .min=${0.001}
              .step=${0.01}
              .decimals=${3}
              @foil-change=${this.changed}
            ></foil-number>
          </div>`
          : nothing
      }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-colour-key': FoilColourKey;
  }
}
