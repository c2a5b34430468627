import { html, LitElement, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { emit } from '../events.ts';
import { mapRow, type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { type Edge, type EdgeCells, edgeCells } from './edge-cells.ts';
import type { Hub } from './hub.ts';
import { patternDefs, plotStyles, stepAreas } from './plot-styles.ts';

const SIDE = 8;

/**
 * @summary Close-up of one edge on the map's height axis, the distance from the edge magnified.
 * @fires foil-select - a place chosen by pointer
 */
@customElement('foil-edge-strip')
export class FoilEdgeStrip extends LitElement {
  static override styles = [base, plotStyles];

  @property() edge: Edge = 'leading';
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) hub!: Hub;
  @property({ attribute: false }) selection: Selection = {};
  @property({ type: Number }) magnification = 10;
  @property({ type: Number }) width = 96;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg.focus') private svgElement!: SVGSVGElement;

  private cells!: EdgeCells;

  override willUpdate(changed: PropertyValues<this>): void {
    const still = ['edge', 'results', 'hub', 'magnification', 'width'].every(
      (name) => !changed.has(name as keyof FoilEdgeStrip),
    );
    if (still) return;
    this.cells = edgeCells(this.results.map!, {
      edge: this.edge,
      limits: this.hub.limits,
      y: (height) => this.hub.geometry.y(height),
      left: SIDE,
      width: this.width - 2 * SIDE,
      pxPerMm: this.hub.geometry.pxPerMmAlong * this.magnification,
    });
  }

  private pick(event: PointerEvent): void {
    if (event.type === 'pointermove' && !this.svgElement.hasPointerCapture(event.pointerId)) return;
    if (event.type === 'pointerdown') this.svgElement.setPointerCapture(event.pointerId);
    const box = this.svgElement.getBoundingClientRect();
    const [bottom, top] = this.hub.heightDomain;
    const { plot } = this.hub.geometry;
    const share = (plot.y + plot.height - (event.clientY - box.top)) / plot.height;
    const height = bottom + Math.max(0, Math.min(1, share)) * (top - bottom);
    const row = mapRow(this.results, height);
    emit(
      this,
      'foil-select',
      selectPlace(this.results, this.results.map!.heights[row], this.cells.along(event.clientX - box.left, row)),
    );
  }

  override render(): TemplateResult {
    const { plot, height } = this.hub.geometry;
    const { cells } = this;
    const name = this.edge === 'leading' ? 'LE' : 'TE';
    const sides = this.edge === 'leading' ? ['suction', 'pressure'] : ['pressure', 'suction'];
    const middle = this.width / 2;
    const bottom = plot.y + plot.height;
    const at = this.selection;
    const row = at.height === undefined ? -1 : mapRow(this.results, at.height);
    const x = row < 0 || at.along === undefined ? null : cells.x(at.along, row);
    const y = at.height === undefined ? null : this.hub.geometry.y(at.height);
    return html`<div class="layers"><svg
      class="focus"
      width=${this.width}
      height=${height}
      role="img"
      aria-label="Close-up of the ${this.edge} edge, ×${this.magnification}, ${cells.reach.toFixed(2)} mm to each side. Choose places with the keys of the map."
      @pointerdown=${this.pick}
      @pointermove=${this.pick}
    >
      ${patternDefs()}
      <text x=${middle} y="12" text-anchor="middle">${name} ×${this.magnification}</text>
      <rect x=${SIDE} y=${plot.y} width=${this.width - 2 * SIDE} height=${plot.height} fill="var(--foil-page)"></rect>
      ${stepAreas(cells.steps)}
      <path d=${cells.notMeasured} fill="url(#dots)"></path>
      <rect x=${SIDE} y=${plot.y} width=${this.width - 2 * SIDE} height=${plot.height} fill="none" stroke="var(--foil-map-line)"></rect>
      <path d="M${middle} ${plot.y}V${bottom}" stroke="var(--foil-edge)" stroke-dasharray="2 3"></path>
      ${sides.map(
        (side, k) =>
          svg`<text class="tick" font-size="11" x=${k === 0 ? SIDE : this.width - SIDE} y=${bottom + 16} text-anchor=${k === 0 ? 'start' : 'end'}>${side.slice(0, 4)}.</text>`,
      )}
      <text class="tick" font-size="11" x=${middle} y=${bottom + 33} text-anchor="middle">±${cells.reach.toFixed(1)} mm</text>
    </svg>
    <svg class="over" width=${this.width} height=${height} aria-hidden="true">
      ${
        y === null
          ? nothing
          : svg`<path class="under-data" d="M${SIDE} ${y}H${this.width - SIDE}"></path><path class="on-data" d="M${SIDE} ${y}H${this.width - SIDE}"></path>
            ${x === null ? null : svg`<circle class="under-data" cx=${x} cy=${y} r="5"></circle><circle class="on-data" cx=${x} cy=${y} r="5"></circle>`}`
      }
    </svg></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-edge-strip': FoilEdgeStrip;
  }
}
