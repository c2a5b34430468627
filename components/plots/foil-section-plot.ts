import { consume } from '@lit/context';
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { largestAmount, outlineSamples } from '../../src/report/svg/plot-samples.ts';
import {
  chooseMagnification,
  type SectionPlotGeometry,
  sectionPlotGeometry,
} from '../../src/report/svg/section-plot-geometry.ts';
import { formatNumber } from '../controls/format.ts';
import { quantityWord } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { ShownLimits } from './hub.ts';
import type { Pictures } from './pictures.ts';
import { sectionKey } from './plot-keys.ts';
import './foil-plot-menu.ts';
import { patternDefs, plotStyles, stepAreas } from './plot-styles.ts';

/** Magnifications the buttons step through. */
const MAGNIFICATIONS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;

/**
 * @summary One section at equal scale; the gap between nominal and measured is a filled band, magnified.
 * @fires foil-select - a place chosen by pointer or keys
 * @fires foil-magnification - 0 means: chosen by the plot
 */
@customElement('foil-section-plot')
export class FoilSectionPlot extends LitElement {
  static override styles = [
    base,
    plotStyles,
    css`
      .bar {
        min-height: var(--foil-target);
        margin-bottom: 4px;
      }
      .group button {
        min-height: 28px;
      }
      :host-context([data-density='roomy']) .group button {
        min-height: 48px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) section!: SectionResult;
  @property({ attribute: false }) limits!: ShownLimits;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) pictures!: Pictures;
  /** 0: chosen from the largest deviation; 1: true scale. */
  @property({ type: Number }) magnification = 0;
  @property({ type: Number }) width = 420;
  @property({ type: Number }) height = 260;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  /** Magnification at which the widest limit takes three tenths of the section's thickness. */
  private chosen(): number {
    const samples = outlineSamples(this.section, this.limits.at);
    const thickness = this.section.nominal?.thicknessMax.value ?? 2;
    return samples ? chooseMagnification(largestAmount(samples.deviation, samples.limits), 0.3 * thickness) : 1;
  }

  private geometry(): SectionPlotGeometry | null {
    return sectionPlotGeometry(this.section, {
      limitsAt: this.limits.at,
      width: this.width,
      height: this.height,
      magnification: this.magnification > 0 ? this.magnification : this.chosen(),
    });
  }

  private magnify(step: 1 | -1): void {
    const now = this.geometry()?.magnification ?? 1;
    const at = MAGNIFICATIONS.findIndex((m) => m >= now) + step;
    const magnification = MAGNIFICATIONS[Math.max(0, Math.min(MAGNIFICATIONS.length - 1, at))];
    emit(this, 'foil-magnification', { magnification });
  }

  private toggleTrue(): void {
    emit(this, 'foil-magnification', { magnification: this.magnification === 1 ? 0 : 1 });
  }

  private pick(event: PointerEvent): void {
    if (event.type === 'pointermove' && !this.svgElement.hasPointerCapture(event.pointerId)) return;
    if (event.type === 'pointerdown') this.svgElement.setPointerCapture(event.pointerId);
    const g = this.geometry();
    if (!g) return;
    const box = this.svgElement.getBoundingClientRect();
    const at = g.nearest(event.clientX - box.left, event.clientY - box.top);
    emit(this, 'foil-select', selectPlace(this.results, this.section.height, g.samples.along[at]));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = sectionKey(event.key, event.shiftKey, this.results, this.section, this.selection);
    if (next) emit(this, 'foil-select', next);
    else if (event.key === '+') this.magnify(1);
    else if (event.key === '-') this.magnify(-1);
    else if (this.view.letterKeys && event.key.toLowerCase() === 't') this.toggleTrue();
    else return;
    event.preventDefault();
  }

  private cross(g: SectionPlotGeometry) {
    const { along } = this.selection;
    if (along === undefined) return nothing;
    const { samples } = g;
    let at = 0;
    for (let i = 1; i < samples.along.length; i++) {
      if (Math.abs(samples.along[i] - along) < Math.abs(samples.along[at] - along)) at = i;
    }
    const [x, y] = [g.x(samples.x[at]), g.y(samples.y[at])];
    const [nx, ny] = [samples.normalX[at], -samples.normalY[at]];
    return svg`<path class="cross" d="M${x - 16 * nx} ${y - 16 * ny}L${x + 16 * nx} ${y + 16 * ny}"></path>
      <circle class="halo" cx=${x} cy=${y} r="4.5"></circle><circle class="cross" fill="none" stroke-width="1.6" cx=${x} cy=${y} r="4.5"></circle>`;
  }

  override render(): TemplateResult {
    const g = this.geometry();
    const { mark } = this.view;
    const word = quantityWord(this.results);
    const head = `Section at ${formatNumber(this.section.height, 2, mark)} mm`;
    if (!g) return html`<h3>${head}</h3><p class="small muted">No outline to draw here.</p>`;
    const { magnification } = g;
    const bars = [g.shapeBar, g.deviationBar];
    const ahead = g.trailing.x >= g.leading.x ? 1 : -1;
    return html`<div class="between bar">
        <h3>${head}, ${magnification === 1 ? 'true scale' : html`gap magnified ×${magnification}`}</h3>
        <div class="row">
          <div class="group">
            <button aria-label="Magnify less" @click=${() => this.magnify(-1)}>−</button>
            <button aria-label="Magnify more" @click=${() => this.magnify(1)}>+</button>
          </div>
          <div class="group">
            <button aria-pressed=${this.magnification === 1} @click=${this.toggleTrue}>True scale</button>
          </div>
          <foil-plot-menu .picture=${this.pictures.section(this.section, magnification)} ?stale=${this.stale}></foil-plot-menu>
        </div>
      </div>
      <svg
        class="focus"
        width=${g.width}
        height=${g.height}
        tabindex="0"
        role="application"
        aria-roledescription="plot"
        aria-label="${head}, seen from the tip; gap between nominal and measured magnified ${magnification} times. Arrow keys step through the points, plus and minus magnify, T is true scale."
        @pointerdown=${this.pick}
        @pointermove=${this.pick}
        @keydown=${this.key}
      >
        ${patternDefs()} ${stepAreas(g.band)}
        <path d=${g.camber} fill="none" stroke="var(--foil-line)"></path>
        <path class="limit" d=${g.lowerLimit}></path>
        <path class="limit" d=${g.upperLimit}></path>
        <path class="nominal" d=${g.nominal}></path>
        <path d=${g.notMeasured} fill="none" stroke="var(--foil-page)" stroke-width="3"></path>
        <path d=${g.notMeasured} fill="none" stroke="var(--foil-map-line)" stroke-width="3" stroke-dasharray="1 4" stroke-linecap="round"></path>
        <path class="measured" d=${g.measured}></path>
        <text x=${g.leading.x - ahead * 14} y=${g.leading.y + 4} text-anchor=${ahead > 0 ? 'end' : 'start'}>LE</text>
        <text x=${g.trailing.x + ahead * 14} y=${g.trailing.y + 4} text-anchor=${ahead > 0 ? 'start' : 'end'}>TE</text>
        ${bars.map(
          (bar, k) => svg`<path class="axis" stroke="currentColor" d="M${bar.x1} ${bar.y - 4}v4H${bar.x2}v-4"></path>
          <text class="tick" x=${k === 0 ? bar.x1 : bar.x2} y=${bar.y - 8} text-anchor=${k === 0 ? 'start' : 'end'}>${bar.text.replace('deviation', word)}</text>`,
        )}
        ${this.cross(g)}
      </svg>
      <p class="small muted">dashed: nominal · dotted: limits · solid: measured, seen from the tip</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-section-plot': FoilSectionPlot;
  }
}
