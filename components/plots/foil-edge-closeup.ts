import { consume } from '@lit/context';
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { ParameterSpec } from '../../src/measure/definitions/definition.ts';
import { formatNumber } from '../controls/format.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import type { Trial } from '../state/definition-choice.ts';
import { base } from '../styles/base.ts';
import { closeUp, dotsPath, nearNose, type ResidualStrip, residualStrip, SHOWN_DEG } from './edge-closeup-geometry.ts';
import { edgeTraceNumbers } from './plot-numbers.ts';
import './foil-numbers.ts';
import { plotStyles } from './plot-styles.ts';

/** A parameter that is a number. */
export type NumberSpec = Extract<ParameterSpec, { unit: string }>;

const PICTURE = 156;

/**
 * @summary One edge at true scale with the curve fitted to it, and the residuals over the angle of the normal.
 * @fires foil-fit-range - the range is dragged or moved by keys
 */
@customElement('foil-edge-closeup')
export class FoilEdgeCloseup extends LitElement {
  static override styles = [
    base,
    plotStyles,
    css`
      .points {
        fill: none;
        stroke: var(--foil-muted);
        stroke-width: 2;
        stroke-linecap: round;
      }
      .points.used {
        stroke: var(--foil-ink);
        stroke-width: 2.6;
      }
      .fitted {
        fill: none;
        stroke: var(--foil-second);
        stroke-width: 1;
        stroke-dasharray: 4 3;
      }
      .fitted.used {
        stroke-width: 1.8;
        stroke-dasharray: none;
      }
      .range {
        fill: var(--foil-second);
        opacity: 0.1;
      }
      .handle {
        cursor: ew-resize;
      }
      .handle rect {
        fill: var(--foil-page);
        stroke: var(--foil-second);
        stroke-width: 1.6;
      }
      .handle path {
        stroke: var(--foil-second);
        stroke-width: 1.6;
      }
      .picture {
        overflow: hidden;
      }
      .waiting {
        opacity: 0.55;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property() edge: 'leading' | 'trailing' = 'leading';
  @property({ attribute: false }) trial: Trial | null = null;
  /** The angle to each side that the definition is fitted over; null where it has none. */
  @property({ attribute: false }) range: NumberSpec | null = null;
  @property({ type: Number }) width = 420;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  private get half(): number | null {
    const value = this.range ? this.trial?.ask.parameters?.[this.range.name] : undefined;
    return typeof value === 'number' ? value : null;
  }

  private move(to: number): void {
    const { range, half } = this;
    if (!range || half === null) return;
    const halfAngleDeg = Math.min(range.most, Math.max(range.least, Math.round(to)));
    if (halfAngleDeg !== half) emit(this, 'foil-fit-range', { halfAngleDeg });
  }

  private drag(event: PointerEvent, strip: ResidualStrip): void {
    const handle = event.currentTarget as SVGGElement;
    if (event.type === 'pointerdown') {
      handle.setPointerCapture(event.pointerId);
      event.preventDefault();
    } else if (!handle.hasPointerCapture(event.pointerId)) return;
    this.move(Math.abs(strip.x.invert(event.clientX - this.svgElement.getBoundingClientRect().left)));
  }

  private key(event: KeyboardEvent): void {
    const { range, half } = this;
    if (!range || half === null || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? 10 : 1;
    const to: Record<string, number> = {
      ArrowRight: half + step,
      ArrowUp: half + step,
      ArrowLeft: half - step,
      ArrowDown: half - step,
      PageUp: half + 10,
      PageDown: half - 10,
      Home: range.least,
      End: range.most,
    };
    if (!(event.key in to)) return;
    event.preventDefault();
    this.move(to[event.key]);
  }

  private handles(strip: ResidualStrip, half: number, range: NumberSpec) {
    const { plot } = strip;
    const middle = plot.y + plot.height / 2;
    const [left, right] = strip.range!;
    const grip = (at: number) => svg`<path d="M${at} ${plot.y}v${plot.height}"></path>
      <rect x=${at - 5} y=${middle - 12} width="10" height="24" rx="2"></rect>
      <rect x=${at - 13} y=${plot.y} width="26" height=${plot.height} style="fill: transparent; stroke: none"></rect>`;
    const drag = (e: PointerEvent): void => this.drag(e, strip);
    return svg`<rect class="range" x=${left} y=${plot.y} width=${right - left} height=${plot.height}></rect>
      <g class="handle" @pointerdown=${drag} @pointermove=${drag}>${grip(left)}</g>
      <g
        class="handle"
        tabindex="0"
        role="slider"
        aria-label="${this.edge} edge, ${range.label}"
        aria-valuemin=${range.least}
        aria-valuemax=${range.most}
        aria-valuenow=${half}
        aria-valuetext="${formatNumber(half, 0)} degrees to each side"
        @pointerdown=${drag}
        @pointermove=${drag}
        @keydown=${this.key}
      >${grip(right)}</g>`;
  }

  override render(): TemplateResult {
    const whole = this.trial?.reply?.edge;
    const trace = whole ? nearNose(whole, SHOWN_DEG) : null;
    const value = this.trial?.reply?.measured ?? this.trial?.reply?.nominal;
    const { half, width } = this;
    const picture =
      trace && value ? closeUp(trace, value, half, { x: 0, y: 0, width: PICTURE, height: PICTURE }) : null;
    if (!trace || !picture)
      return html`<p class="small muted">${this.trial && !this.trial.answered ? 'Measuring …' : 'No curve is fitted here by this definition.'}</p>`;
    const { mark } = this.view;
    const wide = width >= 380;
    const stripTop = wide ? 0 : PICTURE + 10;
    const height = stripTop + PICTURE;
    const left = wide ? PICTURE + 6 : 0;
    const strip = residualStrip(trace, half, { x: left, y: stripTop, width: width - left, height: PICTURE });
    const { plot } = strip;
    const bottom = plot.y + plot.height;
    const used = (points: readonly { x: number; y: number; inRange: boolean }[], yes: boolean): string =>
      dotsPath(points.filter((p) => p.inRange === yes));
    return html`<svg width=${width} height=${height} class=${this.trial?.answered ? '' : 'waiting'} role="group" aria-label="${this.edge} edge with the fitted curve and its residuals">
        <svg class="picture" width=${PICTURE} height=${PICTURE - 18}>
          <path class="points" d=${used(picture.points, false)}></path>
          <path class="points used" d=${used(picture.points, true)}></path>
          <path class="fitted" d=${picture.fitted}></path>
          <path class="fitted used" d=${picture.fittedInRange}></path>
        </svg>
        <path class="axis" stroke="currentColor" d="M${picture.bar.x1} ${picture.bar.y - 4}v4H${picture.bar.x2}v-4"></path>
        <text class="tick" x=${picture.bar.x2 + 5} y=${picture.bar.y}>${picture.bar.text.replace('.', mark)}</text>
        ${strip.valueTicks.map(
          (t) => svg`<path class="grid" d="M${plot.x} ${t.at}h${plot.width}"></path>
          <text class="tick" x=${plot.x - 6} y=${t.at + 4} text-anchor="end">${t.text.replace('.', mark)}</text>`,
        )}
        ${strip.angleTicks.map((t) => svg`<path class="grid" d="M${t.at} ${plot.y}v${plot.height}"></path><text class="tick" x=${t.at} y=${bottom + 15} text-anchor="middle">${t.text}°</text>`)}
        <path class="zero" d="M${plot.x} ${strip.zero}h${plot.width}"></path>
        <path class="points" d=${used(strip.points, false)}></path>
        <path class="points used" d=${used(strip.points, true)}></path>
        ${half === null || !this.range ? nothing : this.handles(strip, half, this.range)}
      </svg>
      <foil-numbers label="residuals of the ${this.edge} edge" .numbers=${() => edgeTraceNumbers(trace)}></foil-numbers>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-edge-closeup': FoilEdgeCloseup;
  }
}
