import { consume } from '@lit/context';
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { formatNumber } from '../controls/format.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { type CurveGeometry, curveGeometry } from './curve-geometry.ts';
import { plotStyles } from './plot-styles.ts';

/** Room for the two numbers left of the curve (px). */
const LEFT = 44;

/**
 * @summary What a result would be against one value, with marks at now and best; also the slider of that value.
 * @fires foil-input - a value chosen by arrow keys or pointer
 * @fires foil-change - once, when the pointer lets go
 */
@customElement('foil-curve')
export class FoilCurve extends LitElement {
  static override styles = [
    base,
    plotStyles,
    css`
      .focus {
        cursor: ew-resize;
      }
      :host([locked]) .focus {
        cursor: default;
      }
      text {
        font-size: 10.5px;
      }
      .outside {
        fill: var(--foil-hover);
      }
      .best {
        fill: var(--foil-page);
        stroke: var(--foil-ink);
        stroke-width: 1.4;
      }
      .now {
        fill: var(--foil-ink);
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  /** What the value is of, such as "X". */
  @property() label = '';
  /** What the curve shows, such as "least spare stock". */
  @property() shows = '';
  @property({ attribute: false }) x: readonly number[] = [];
  @property({ attribute: false }) y: readonly number[] = [];
  @property({ type: Number }) now = 0;
  @property({ type: Number }) best: number | null = null;
  @property() xUnit = 'mm';
  @property() yUnit = 'mm';
  /** Step of the arrow keys. */
  @property({ type: Number }) step = 0.01;
  @property({ type: Number }) decimals = 3;
  @property({ type: Number }) yDecimals = 2;
  /** Values allowed; outside them the curve is shaded. */
  @property({ attribute: false }) range: readonly [number, number] | null = null;
  @property({ type: Boolean, reflect: true }) locked = false;
  @property({ type: Boolean, reflect: true }) stale = false;
  @property({ type: Number }) width = 260;
  @property({ type: Number }) height = 54;
  @query('svg') private svgElement!: SVGSVGElement;

  private geometry(): CurveGeometry {
    return curveGeometry(this.x, this.y, { width: this.width, height: this.height, left: LEFT });
  }

  private held(value: number): number {
    const [low, high] = this.range ?? [this.x[0], this.x[this.x.length - 1]];
    return Math.min(high, Math.max(low, value));
  }

  private pick(event: PointerEvent): void {
    if (this.locked || this.x.length < 2) return;
    const { svgElement } = this;
    if (event.type === 'pointerdown') svgElement.setPointerCapture(event.pointerId);
    else if (!svgElement.hasPointerCapture(event.pointerId)) return;
    const value = this.geometry().x.invert(event.clientX - svgElement.getBoundingClientRect().left);
    const held = this.held(Math.round(value / this.step) * this.step);
    emit(this, event.type === 'pointerup' ? 'foil-change' : 'foil-input', { value: held });
  }

  private key(event: KeyboardEvent): void {
    if (this.locked || event.ctrlKey || event.metaKey || event.altKey) return;
    const far = event.shiftKey ? 10 : 1;
    const to: Record<string, number> = {
      ArrowRight: this.now + far * this.step,
      ArrowUp: this.now + far * this.step,
      ArrowLeft: this.now - far * this.step,
      ArrowDown: this.now - far * this.step,
      PageUp: this.now + 10 * this.step,
      PageDown: this.now - 10 * this.step,
      Home: this.x[0],
      End: this.x[this.x.length - 1],
    };
    if (!(event.key in to)) return;
    event.preventDefault();
    emit(this, 'foil-input', { value: this.range ? this.held(to[event.key]) : to[event.key] });
  }

  private valueText(g: CurveGeometry): string {
    const { mark } = this.view;
    const y = g.at(this.now);
    const here = `${formatNumber(this.now, this.decimals, mark, true)} ${this.xUnit}`;
    const then = y === null ? '' : `: ${this.shows} ${formatNumber(y, this.yDecimals, mark, true)} ${this.yUnit}`;
    const best = this.best === null ? '' : `; best at ${formatNumber(this.best, this.decimals, mark, true)}`;
    return `${here}${then}${best}${this.locked ? '; locked' : ''}`;
  }

  private marks(g: CurveGeometry): unknown {
    const bottom = g.plot.y + g.plot.height;
    const [nowY, bestY] = [g.at(this.now), this.best === null ? null : g.at(this.best)];
    return svg`
      ${nowY === null ? nothing : svg`<path class="cross" d="M${g.x(this.now)} ${g.plot.y}V${bottom}"></path>`}
      ${
        bestY === null
          ? nothing
          : svg`<path class="best" transform="translate(${g.x(this.best!)} ${g.y(bestY)})" d="M0-5.5L5.5 0 0 5.5-5.5 0z"></path>`
      }
      ${nowY === null ? nothing : svg`<circle class="now" cx=${g.x(this.now)} cy=${g.y(nowY)} r="3.4"></circle>`}`;
  }

  private shades(g: CurveGeometry): unknown {
    if (!this.range) return nothing;
    const inside = (value: number): number => Math.max(g.plot.x, Math.min(g.plot.x + g.plot.width, g.x(value)));
    const [low, high] = this.range.map(inside);
    const right = g.plot.x + g.plot.width;
    const box = (from: number, to: number): unknown =>
      svg`<rect class="outside" x=${from} y=${g.plot.y} width=${to - from} height=${g.plot.height}></rect>`;
    return svg`${box(g.plot.x, low)}${box(high, right)}`;
  }

  override render(): TemplateResult {
    const g = this.geometry();
    const { plot } = g;
    const { mark } = this.view;
    const [low, high] = [Math.min(...this.y), Math.max(...this.y)];
    const text = (value: number): string => formatNumber(value, this.yDecimals, mark, this.yUnit === 'mm');
    return html`<svg
      class="focus"
      width=${g.width}
      height=${g.height}
      tabindex="0"
      role="slider"
      aria-label="${this.label}: ${this.shows} against this value"
      aria-valuenow=${this.now}
      aria-valuemin=${this.x[0] ?? this.now}
      aria-valuemax=${this.x[this.x.length - 1] ?? this.now}
      aria-valuetext=${this.valueText(g)}
      aria-disabled=${this.locked}
      @pointerdown=${this.pick}
      @pointermove=${this.pick}
      @pointerup=${this.pick}
      @keydown=${this.key}
    >
      ${this.shades(g)}
      <rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height} fill="none" class="axis" stroke="var(--foil-line)"></rect>
      ${g.zero === null ? nothing : svg`<path class="zero" d="M${plot.x} ${g.zero}h${plot.width}"></path>`}
      <path class="measured" d=${g.line}></path>
      ${this.marks(g)}
      ${
        this.y.length === 0
          ? nothing
          : svg`<text class="tick" x=${plot.x - 5} y=${g.y(high) + 4} text-anchor="end">${text(high)}</text>
            ${Math.abs(g.y(low) - g.y(high)) < 14 ? nothing : svg`<text class="tick" x=${plot.x - 5} y=${g.y(low) + 3} text-anchor="end">${text(low)}</text>`}`
      }
    </svg>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-curve': FoilCurve;
  }
}
