import { consume } from '@lit/context';
import { html, LitElement, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { formatU } from '../../src/report/format-number.ts';
import { type EdgeLine, type EdgeStripGeometry, edgeStripGeometry } from '../../src/report/svg/edge-strip-geometry.ts';
import { showResult } from '../controls/format.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { ShownLimits } from './hub.ts';
import type { Pictures } from './pictures.ts';
import { sectionKey } from './plot-keys.ts';
import { edgeNumbers } from './plot-numbers.ts';
import './foil-numbers.ts';
import './foil-plot-menu.ts';
import { plotStyles } from './plot-styles.ts';

/**
 * @summary Deviation of both edges over the angle of the normal from the nose, with the fitted radii.
 * @fires foil-select - a place chosen by keys
 */
@customElement('foil-edge-plot')
export class FoilEdgePlot extends LitElement {
  static override styles = [base, plotStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) section!: SectionResult;
  @property({ attribute: false }) limits!: ShownLimits;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) pictures!: Pictures;
  @property({ type: Number }) width = 420;
  @property({ type: Number }) height = 170;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  private geometry(): EdgeStripGeometry | null {
    return edgeStripGeometry(this.section, {
      limitsAt: this.limits.at,
      width: this.width,
      height: this.height,
      margin: { left: 58, top: 10, right: 14, bottom: 36 },
    });
  }

  private radius(edge: EdgeLine['edge']): string {
    const { mark } = this.view;
    const value = this.section.measured?.[edge === 'leading' ? 'leadingEdge' : 'trailingEdge'].radiusFit;
    if (!value || value.value === null) return 'radius not measured';
    return `radius ${showResult(value.value, { unit: 'mm', u: value.u }, mark)} mm, U ${formatU(value.u).replace('.', mark)}`;
  }

  private focusEdge(edge: EdgeLine['edge']): void {
    const along = this.section.plot?.along ?? [0];
    emit(
      this,
      'foil-select',
      selectPlace(this.results, this.section.height, edge === 'leading' ? 0 : along[along.length - 1]),
    );
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = sectionKey(event.key, event.shiftKey, this.results, this.section, this.selection);
    if (!next) return;
    event.preventDefault();
    emit(this, 'foil-select', next);
  }

  private pick(event: PointerEvent): void {
    const g = this.geometry();
    if (!g) return;
    const at = event.clientY - this.svgElement.getBoundingClientRect().top;
    const from = event.clientX - this.svgElement.getBoundingClientRect().left;
    const gap = (line: EdgeLine): number => {
      const i = line.angleDeg.reduce(
        (b, a, k) => (Math.abs(g.x(a) - from) < Math.abs(g.x(line.angleDeg[b]) - from) ? k : b),
        0,
      );
      return Math.abs(g.y(line.deviation[i] ?? 0) - at);
    };
    const [leading, trailing] = g.edges;
    this.focusEdge(gap(leading) <= gap(trailing) ? 'leading' : 'trailing');
  }

  override render(): TemplateResult {
    const g = this.geometry();
    const { mark } = this.view;
    if (!g) return html`<h3>Edges over normal angle</h3><p class="small muted">No outline to draw here.</p>`;
    const { plot } = g;
    const bottom = plot.y + plot.height;
    return html`<div class="between">
        <h3>Edges over normal angle, mm from nominal</h3>
        <foil-plot-menu .picture=${this.pictures.edges(this.section)} ?stale=${this.stale}></foil-plot-menu>
      </div>
      <svg
        class="focus"
        width=${g.width}
        height=${g.height}
        tabindex="0"
        role="application"
        aria-roledescription="plot"
        aria-label="Deviation of the leading edge, ${this.radius('leading')}, and of the trailing edge, ${this.radius('trailing')}, over the angle of the normal. Arrow keys step through the points."
        @pointerdown=${this.pick}
        @keydown=${this.key}
      >
        ${g.valueTicks.map(
          (t) => svg`<path class="grid" d="M${plot.x} ${t.at}h${plot.width}"></path>
          <text class="tick" x=${plot.x - 6} y=${t.at + 4} text-anchor="end">${t.text.replace('.', mark)}</text>`,
        )}
        ${g.angleTicks.map((t) => svg`<path class="grid" d="M${t.at} ${plot.y}v${plot.height}"></path><text class="tick" x=${t.at} y=${bottom + 15} text-anchor="middle">${t.text}°</text>`)}
        <path class="zero" d="M${plot.x} ${g.zero}h${plot.width}"></path>
        ${g.edges.map(
          (line) => svg`<path class="limit" d=${line.lowerLimit}></path><path class="limit" d=${line.upperLimit}></path>
          <path class=${line.edge === 'leading' ? 'measured' : 'nominal'} d=${line.line}></path>`,
        )}
        <text class="tick" x=${plot.x} y=${bottom + 31}>suction side</text>
        <text class="tick" x=${plot.x + plot.width} y=${bottom + 31} text-anchor="end">pressure side</text>
      </svg>
      <p class="small muted">solid: leading edge, ${this.radius('leading')} · dashed: trailing edge, ${this.radius('trailing')}</p>
      <foil-numbers label="deviation of the edges" .numbers=${() => edgeNumbers(g)}></foil-numbers>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-edge-plot': FoilEdgePlot;
  }
}
