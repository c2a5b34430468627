import { consume } from '@lit/context';
import { html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { unitText } from '../../src/report/format-number.ts';
import { type TrendPanelGeometry, type TrendSeries, trendPanelGeometry } from '../../src/report/svg/trend-geometry.ts';
import { showResult } from '../controls/format.ts';
import { verdictShape } from '../controls/verdict-shape.ts';
import { VERDICT_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectSection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { plotStyles } from './plot-styles.ts';

/** Width of one digit of the values named under a panel (px). */
const DIGIT = 6.2;

/**
 * @summary One quantity over the span: value across, height up, on the map's height axis.
 * @fires foil-select - a section, and with Enter its characteristic
 */
@customElement('foil-trend-panel')
export class FoilTrendPanel extends LitElement {
  static override styles = [base, plotStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) series!: TrendSeries;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) heightDomain: [number, number] = [0, 1];
  @property({ type: Number }) width = 96;
  @property({ type: Number }) height = 300;
  @property({ attribute: false }) margins: { top: number; bottom: number } = { top: 24, bottom: 44 };
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  private geometry(): TrendPanelGeometry {
    return trendPanelGeometry(this.series, {
      heightDomain: this.heightDomain,
      width: this.width,
      height: this.height,
      margin: { left: 8, right: 8, ...this.margins },
    });
  }

  private choose(index: number): void {
    const id = this.series.sections[index];
    if (id !== undefined) emit(this, 'foil-select', selectSection(this.results, this.selection, id));
  }

  private pick(event: PointerEvent): void {
    this.choose(this.geometry().nearest(event.clientY - this.svgElement.getBoundingClientRect().top));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const order = this.series.heights.map((_, i) => i).sort((a, b) => this.series.heights[a] - this.series.heights[b]);
    const at = order.findIndex((i) => this.series.sections[i] === this.selection.sectionId);
    if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      const step = event.key === 'ArrowUp' ? 1 : -1;
      this.choose(order[Math.max(0, Math.min(order.length - 1, at < 0 ? 0 : at + step))]);
    } else if (event.key === 'ArrowLeft' || event.key === 'ArrowRight') {
      const next = event.key === 'ArrowRight' ? this.nextElementSibling : this.previousElementSibling;
      if (next instanceof FoilTrendPanel) next.focusPlot();
    } else if (event.key === 'Enter') {
      const row = (this.results.characteristics ?? []).find(
        (c) => c.id === `${this.series.of}@${this.selection.sectionId}`,
      );
      if (row) emit(this, 'foil-select', { ...this.selection, characteristicId: row.id });
    } else return;
    event.preventDefault();
  }

  /** Puts the focus on the drawing. */
  focusPlot(): void {
    this.svgElement.focus();
  }

  private ariaText(): string {
    const { series, view } = this;
    const i = series.sections.indexOf(this.selection.sectionId ?? '');
    const head = `${series.name} over height.`;
    if (i < 0) return head;
    const value = showResult(
      series.value[i],
      {
        unit: series.unit,
        u: series.u[i],
        limits: [series.lower[i], series.upper[i]],
        signed: series.aboutNominal ?? false,
      },
      view.mark,
    );
    return `${head} Here ${value} ${unitText(series.unit)}${series.aboutNominal ? ' from nominal' : ''}, ${VERDICT_WORDS[series.verdict[i]]}.`;
  }

  override render(): TemplateResult {
    const g = this.geometry();
    const { plot } = g;
    const { mark } = this.view;
    const bottom = plot.y + plot.height;
    const chosen = this.series.sections.indexOf(this.selection.sectionId ?? '');
    const ends = g.valueTicks.length > 2 ? [g.valueTicks[0], g.valueTicks[g.valueTicks.length - 1]] : g.valueTicks;
    const room = DIGIT * ends.reduce((sum, t) => sum + t.text.length, 1);
    const ticks = ends.length > 1 && ends[1].at - ends[0].at < room ? [ends[0]] : ends;
    return html`<svg
      class="focus"
      width=${g.width}
      height=${g.height}
      tabindex="0"
      role="application"
      aria-roledescription="plot"
      aria-label=${this.ariaText()}
      @pointerdown=${this.pick}
      @keydown=${this.key}
    >
      <rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height} fill="var(--foil-page)" class="axis"></rect>
      ${ticks.map(
        (t, i) => svg`<path class="grid" d="M${t.at} ${plot.y}V${bottom}"></path>
        <text class="tick" font-size="11" x=${t.at} y=${bottom + 15} text-anchor=${ticks.length < 2 ? 'middle' : i === 0 ? 'start' : 'end'}>${t.text.replace('.', mark)}</text>`,
      )}
      <text x=${plot.x} y="12">${this.series.name}</text>
      <text class="tick" font-size="11" x=${plot.x + plot.width / 2} y=${bottom + 32} text-anchor="middle">${this.series.aboutNominal ? 'Δ ' : ''}${unitText(this.series.unit)}</text>
      ${chosen < 0 ? nothing : svg`<path class="cross" d="M${plot.x} ${g.y(this.series.heights[chosen])}h${plot.width}"></path>`}
      <path class="limit" d=${g.lowerLimit}></path>
      <path class="limit" d=${g.upperLimit}></path>
      <path class="nominal" d=${g.nominal}></path>
      <path class="measured" stroke-opacity="0.35" d=${g.line}></path>
      ${g.points.map(
        (
          p,
        ) => svg`<path class="axis" stroke="currentColor" d="M${p.low} ${p.y}H${p.high}M${p.low} ${p.y - 3}v6M${p.high} ${p.y - 3}v6"></path>
        ${
          p.verdict === 'pass' || p.verdict === 'no-limit' || p.verdict === 'not-applicable'
            ? svg`<circle cx=${p.x} cy=${p.y} r=${p.index === chosen ? 4.5 : 3} fill="var(--foil-ink)"></circle>`
            : svg`<g transform="translate(${p.x} ${p.y}) scale(0.8)"><circle r="8" fill="var(--foil-page)"></circle>${verdictShape(p.verdict)}</g>`
        }`,
      )}
      ${g.missing.map(({ y }) => svg`<g transform="translate(${plot.x + plot.width / 2} ${y}) scale(0.8)">${verdictShape('not-measured')}</g>`)}
    </svg>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-trend-panel': FoilTrendPanel;
  }
}
