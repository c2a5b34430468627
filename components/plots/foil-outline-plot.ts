import { consume } from '@lit/context';
import { html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { type OutlinePlotGeometry, outlinePlotGeometry } from '../../src/report/svg/outline-plot-geometry.ts';
import { linePath } from '../../src/report/svg/path.ts';
import { valueAlong } from '../../src/report/svg/plot-samples.ts';
import { formatNumber } from '../controls/format.ts';
import { quantityWord } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { ShownLimits } from './hub.ts';
import type { Pictures } from './pictures.ts';
import { sectionKey } from './plot-keys.ts';
import { outlineNumbers } from './plot-numbers.ts';
import './foil-numbers.ts';
import './foil-plot-menu.ts';
import { patternDefs, plotStyles, stepAreas } from './plot-styles.ts';

/**
 * @summary Deviation along the outline of the chosen section, on the map's horizontal axis.
 * @fires foil-select - a place chosen by pointer or keys
 */
@customElement('foil-outline-plot')
export class FoilOutlinePlot extends LitElement {
  static override styles = [base, plotStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) section!: SectionResult;
  @property({ attribute: false }) limits!: ShownLimits;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) pictures!: Pictures;
  @property({ type: Number }) width = 600;
  @property({ type: Number }) height = 190;
  /** Side margins (px) and positions at them (mm); the map's, to share its axis. */
  @property({ attribute: false }) margins: { left: number; right: number } = { left: 76, right: 10 };
  @property({ attribute: false }) alongDomain: [number, number] | null = null;
  /** Kept results' own sections of this place, drawn dashed under their names. */
  @property({ attribute: false }) kept: readonly { name: string; section: SectionResult }[] = [];
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  private geometry(): OutlinePlotGeometry | null {
    return outlinePlotGeometry(this.section, {
      limitsAt: this.limits.at,
      width: this.width,
      height: this.height,
      margin: { ...this.margins, top: 8, bottom: 36 },
      ...(this.alongDomain ? { alongDomain: this.alongDomain } : {}),
    });
  }

  private pick(event: PointerEvent): void {
    if (event.type === 'pointermove' && !this.svgElement.hasPointerCapture(event.pointerId)) return;
    if (event.type === 'pointerdown') this.svgElement.setPointerCapture(event.pointerId);
    const g = this.geometry();
    const along = this.section.plot?.along ?? [];
    const at = g?.nearest(event.clientX - this.svgElement.getBoundingClientRect().left) ?? -1;
    if (at >= 0) emit(this, 'foil-select', selectPlace(this.results, this.section.height, along[at]));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = sectionKey(event.key, event.shiftKey, this.results, this.section, this.selection);
    if (!next) return;
    event.preventDefault();
    emit(this, 'foil-select', next);
  }

  private cross(g: OutlinePlotGeometry) {
    const { along } = this.selection;
    if (along === undefined) return nothing;
    const x = g.x(along);
    const data = this.section.plot!;
    const value = valueAlong(data.along, data.deviation, along);
    return svg`<path class="cross" d="M${x} ${g.plot.y}v${g.plot.height}"></path>
      ${value === null ? null : svg`<circle class="halo" cx=${x} cy=${g.y(value)} r="4.5"></circle><circle class="cross" fill="none" cx=${x} cy=${g.y(value)} r="4.5"></circle>`}`;
  }

  /** Lines of the kept results, cut at the plot's border, each named at its right end. */
  private keptLines(g: OutlinePlotGeometry) {
    const { plot } = g;
    return this.kept.flatMap(({ name, section }) => {
      if (!section.plot) return [];
      const { along, deviation } = section.plot;
      const last = deviation.findLastIndex((d) => d !== null);
      const y = last < 0 ? null : Math.max(plot.y + 8, Math.min(plot.y + plot.height, g.y(deviation[last]!)));
      const heights = deviation.map((d) => (d === null ? null : g.y(d)));
      return svg`<path class="nominal" clip-path="url(#inside)" d=${linePath(along.map(g.x), heights)}></path>
        ${y === null ? null : svg`<text class="kept" x=${Math.min(g.x(along[last]) + 3, plot.x + plot.width - 8)} y=${y + 4}>${name}</text>`}`;
    });
  }

  override render(): TemplateResult {
    const g = this.geometry();
    const { mark } = this.view;
    const word = quantityWord(this.results);
    const head = `${word === 'stock' ? 'Stock' : 'Deviation'} along the outline at ${formatNumber(this.section.height, 2, mark)} mm`;
    if (!g) return html`<p class="small muted">${head}: no outline to draw.</p>`;
    const { plot } = g;
    const bottom = plot.y + plot.height;
    return html`<div class="between">
      <h3>${head}, mm</h3>
      <foil-plot-menu .picture=${this.pictures.outline(this.section)} ?stale=${this.stale}></foil-plot-menu>
    </div>
    <svg
      class="focus"
      width=${g.width}
      height=${g.height}
      tabindex="0"
      role="application"
      aria-roledescription="plot"
      aria-label="${head}, suction side left. Left and right arrow keys step through the points, Page Up and Page Down change the section."
      @pointerdown=${this.pick}
      @pointermove=${this.pick}
      @keydown=${this.key}
    >
      ${patternDefs()}
      <clipPath id="inside"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
      ${g.valueTicks.map(
        (t) => svg`<path class="grid" d="M${plot.x} ${t.at}h${plot.width}"></path>
        <text class="tick" x=${plot.x - 6} y=${t.at + 4} text-anchor="end">${t.text.replace('.', mark)}</text>`,
      )}
      ${g.gaps.map(([from, to]) => svg`<rect x=${from} y=${plot.y} width=${to - from} height=${plot.height} fill="url(#dots)"></rect>`)}
      ${stepAreas(g.fills)}
      <path d=${g.uncertainty} fill="var(--foil-edge)" opacity="0.28"></path>
      <path class="zero" d="M${plot.x} ${g.zero}h${plot.width}"></path>
      <path class="axis" stroke-dasharray="2 3" d="M${g.leadingEdge} ${plot.y}v${plot.height}"></path>
      <path class="limit" d=${g.lowerLimit}></path>
      <path class="limit" d=${g.upperLimit}></path>
      ${this.keptLines(g)}
      <path class="measured" d=${g.line}></path>
      ${g.alongTicks.map((t) => svg`<text class="tick" x=${t.at} y=${bottom + 15} text-anchor="middle">${t.text}</text>`)}
      <text class="tick" x=${g.leadingEdge} y=${bottom + 31} text-anchor="middle">mm from the leading edge</text>
      ${this.cross(g)}
    </svg>
      <p class="small muted">grey band: ±U · dotted: limits${this.kept.length > 0 ? ' · dashed: kept results' : ''}</p>
      <foil-numbers label="${word} along the outline" .numbers=${() => outlineNumbers(this.section, word)}></foil-numbers>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-outline-plot': FoilOutlinePlot;
  }
}
