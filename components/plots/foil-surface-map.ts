import { consume } from '@lit/context';
import {
  css,
  html,
  LitElement,
  nothing,
  type PropertyValues,
  type SVGTemplateResult,
  svg,
  type TemplateResult,
} from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Place, Results } from '../../src/model/results.ts';
import { percentText } from '../../src/report/format-number.ts';
import { formatNumber } from '../controls/format.ts';
import { verdictShape } from '../controls/verdict-shape.ts';
import { AREA_WORDS, coverageOf, FAULT_WORDS, quantityWord, VERDICT_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { mapRow, nearestIndex, rowRange, type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { Hub } from './hub.ts';
import { patternDefs, plotStyles, stepAreas } from './plot-styles.ts';
import { spacedMarks } from './spaced-marks.ts';

/**
 * @summary The whole surface unrolled: leading edge in the middle, suction side left, pressure side right, height up.
 * @fires foil-select - a place chosen by pointer or keys
 * @fires foil-worst - next or previous worst place asked for
 * @fires foil-view - zoom asked for: in, out, all
 */
@customElement('foil-surface-map')
export class FoilSurfaceMap extends LitElement {
  static override styles = [
    base,
    plotStyles,
    css`
      .frame {
        overflow: auto;
        max-width: 100%;
      }
      .mark {
        cursor: pointer;
      }
      .fault circle {
        fill: #ffffff;
        stroke: #14181d;
        stroke-width: 1.4;
      }
      .fault text {
        fill: #14181d;
        font-size: 11px;
        font-weight: 700;
      }
      .mark text {
        font-size: 11px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) hub!: Hub;
  @property({ attribute: false }) selection: Selection = {};
  /** Room the map may take before it scrolls (px); grows the picture when zoomed. */
  @property({ type: Number }) zoom = 1;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('.frame') private frame!: HTMLElement;
  @query('svg[tabindex]') private svgElement!: SVGSVGElement;

  override updated(changed: PropertyValues<this>): void {
    if (this.zoom > 1 && (changed.has('selection') || changed.has('zoom'))) this.keepInView();
  }

  private keepInView(): void {
    const { height, along } = this.selection;
    if (height === undefined || along === undefined) return;
    const { geometry } = this.hub;
    this.frame.scrollLeft = geometry.x(along, height) - this.frame.clientWidth / 2;
    this.frame.scrollTop = geometry.y(height) - this.frame.clientHeight / 2;
  }

  private pick(event: PointerEvent): void {
    const box = this.svgElement.getBoundingClientRect();
    const cell = this.hub.geometry.cellAt(event.clientX - box.left, event.clientY - box.top);
    if (!cell) return;
    const map = this.results.map!;
    emit(this, 'foil-select', selectPlace(this.results, map.heights[cell.row], map.along[cell.row][cell.column]));
  }

  private down(event: PointerEvent): void {
    if (event.button !== 0) return;
    this.svgElement.setPointerCapture(event.pointerId);
    this.pick(event);
  }

  private move(event: PointerEvent): void {
    if (this.svgElement.hasPointerCapture(event.pointerId)) this.pick(event);
  }

  private chooseSection(id: string): void {
    const section = this.results.sections.find((s) => s.id === id)!;
    emit(this, 'foil-select', selectPlace(this.results, section.height, this.selection.along ?? 0));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { sections, map } = this.results;
    const height = this.selection.height ?? sections[0]?.height ?? map!.heights[0];
    const along = this.selection.along ?? 0;
    const far = event.shiftKey ? 10 : 1;
    const row = map!.along[mapRow(this.results, height)];
    const range = rowRange(this.results, height)!;
    const to = (h: number, a: number): void => {
      emit(this, 'foil-select', selectPlace(this.results, h, a));
    };
    const bySection = (step: number): void => {
      const sorted = sections.map((s) => s.height).sort((a, b) => a - b);
      if (sorted.length === 0) return;
      const at = nearestIndex(sorted, height) + step;
      to(sorted[Math.max(0, Math.min(sorted.length - 1, at))], along);
    };
    const byCell = (step: number): void => {
      const at = nearestIndex(row, along) + step;
      to(height, row[Math.max(0, Math.min(row.length - 1, at))]);
    };
    const actions: Record<string, () => void> = {
      ArrowLeft: () => byCell(-far),
      ArrowRight: () => byCell(far),
      ArrowUp: () => bySection(far),
      ArrowDown: () => bySection(-far),
      Home: () => to(height, 0),
      End: () => to(height, along < 0 ? range[0] : range[1]),
      '+': () => emit(this, 'foil-view', { view: 'in' }),
      '-': () => emit(this, 'foil-view', { view: 'out' }),
      '0': () => emit(this, 'foil-view', { view: 'all' }),
      Enter: () => to(height, along),
      ...(this.view.letterKeys
        ? { n: () => emit(this, 'foil-worst', { step: 1 }), N: () => emit(this, 'foil-worst', { step: -1 }) }
        : {}),
    };
    const action = actions[event.key];
    if (!action) return;
    event.preventDefault();
    action();
  }

  /** Numbers of the faults, or of the areas short of stock, beside their places. */
  private faults(): SVGTemplateResult[] {
    const { geometry } = this.hub;
    const { faults, stock } = this.results;
    const marked: { word: string; place: Place }[] = [
      ...(faults ?? []).map(({ kind, place }) => ({ word: FAULT_WORDS[kind], place })),
      ...(stock?.areas ?? []).map(({ kind, place }) => ({ word: AREA_WORDS[kind], place })),
    ];
    return marked.map(({ word, place }, i) => {
      const [x, y] = [geometry.x(place.along, place.height), geometry.y(place.height)];
      return svg`<g class="fault" data-fault=${i + 1} transform="translate(${x} ${y})">
        <path class="under-data" d="M0 0L11 -11"></path><path class="on-data" d="M0 0L11 -11"></path>
        <circle cx="16" cy="-16" r="8"></circle>
        <text x="16" y="-12" text-anchor="middle">${i + 1}</text>
        <title>${word}</title>
      </g>`;
    });
  }

  private cross(): SVGTemplateResult | typeof nothing {
    const { height, along } = this.selection;
    if (height === undefined || along === undefined) return nothing;
    const { geometry } = this.hub;
    const { plot } = geometry;
    const [x, y] = [geometry.x(along, height), geometry.y(height)];
    const path = `M${plot.x} ${y}H${x - 6}M${x + 6} ${y}H${plot.x + plot.width}M${x} ${plot.y}V${y - 6}M${x} ${y + 6}V${plot.y + plot.height}`;
    return svg`<path class="under-data" d=${path}></path><path class="on-data" d=${path}></path>
      <circle class="under-data" cx=${x} cy=${y} r="5"></circle><circle class="on-data" stroke-width="1.6" cx=${x} cy=${y} r="5"></circle>`;
  }

  private ariaText(): string {
    const share = coverageOf(this.results);
    const coverage = share === null ? '' : `${percentText(share)} measured. `;
    const place =
      this.selection.height === undefined
        ? 'No place chosen.'
        : `Chosen: height ${formatNumber(this.selection.height, 2, this.view.mark)} mm, ${formatNumber(this.selection.along, 2, this.view.mark)} mm along the outline.`;
    return `Surface map of the ${quantityWord(this.results)}. ${coverage}${place}`;
  }

  override render(): TemplateResult {
    const g = this.hub.geometry;
    const { plot } = g;
    const bottom = plot.y + plot.height;
    const middle = g.x(0, this.hub.heightDomain[0]);
    const marks = spacedMarks(g.sections, this.selection.sectionId);
    return html`<div class="frame" style="max-height:${this.zoom > 1 ? 560 : 4000}px">
      <div class="layers">
      <svg
        width=${g.width}
        height=${g.height}
        tabindex="0"
        role="application"
        aria-roledescription="map"
        aria-label=${this.ariaText()}
        @keydown=${this.key}
      >
        ${patternDefs()}
        <g class="focus" @pointerdown=${this.down} @pointermove=${this.move}>
          <path d=${g.outline} fill="var(--foil-page)"></path>
          ${stepAreas(g.steps)}
          <path d=${g.notMeasured} fill="url(#dots)" data-not-measured></path>
          <path d=${g.limitLine} fill="none" stroke="#14181D" stroke-width="1.1"></path>
          <path d=${g.outline} fill="none" stroke="var(--foil-map-line)"></path>
          <path d=${g.leadingEdge} fill="none" stroke="var(--foil-edge)" stroke-dasharray="2 3"></path>
        </g>
        ${marks.map(
          (s) => svg`<path class="grid" d="M${plot.x - 4} ${s.y}H${plot.x}"></path>
          <g class="mark" data-section=${s.id} transform="translate(${plot.x - 16} ${s.y})" @click=${() => this.chooseSection(s.id)}>
            <rect x="-52" y=${-12 * s.scale} width="64" height=${24 * s.scale} fill="transparent"></rect>
            <g transform="scale(${s.scale})">${verdictShape(s.verdict)}</g>
            ${s.named ? svg`<text x="-13" y="4" text-anchor="end" font-weight=${s.id === this.selection.sectionId ? 700 : 400}>${formatNumber(s.height, 1, this.view.mark)}</text>` : nothing}
            <title>Section ${s.id}: ${VERDICT_WORDS[s.verdict]}</title>
          </g>`,
        )}
        <text class="tick" x=${plot.x - 70} y="12">height, mm</text>
        <text x=${plot.x} y="12" text-anchor="start" dx="14">TE</text>
        <text x=${middle} y="12" text-anchor="middle">LE</text>
        <text x=${plot.x + plot.width} y="12" text-anchor="end">TE</text>
        ${
          plot.width > 260
            ? svg`<text class="tick" x=${(plot.x + middle) / 2 + 8} y="12" text-anchor="middle">suction side</text>
              <text class="tick" x=${(plot.x + plot.width + middle) / 2 - 8} y="12" text-anchor="middle">pressure side</text>`
            : nothing
        }
        ${g.alongTicks.map(
          (t) => svg`<path class="grid" d="M${t.at} ${bottom}v4"></path>
          <text class="tick" x=${t.at} y=${bottom + 16} text-anchor="middle">${t.text}</text>`,
        )}
        <path d="M${g.bar.x1} ${g.bar.y - 3}v3H${g.bar.x2}v-3" class="axis" stroke="currentColor"></path>
        <text x=${g.bar.x2 + 6} y=${g.bar.y + 3}>${g.bar.text}${g.scale === 'true' ? ', true length' : ', stretched'}${this.zoom > 1 ? `, zoomed ×${this.zoom}` : ''}</text>
      </svg>
      <svg class="over" width=${g.width} height=${g.height} aria-hidden="true">${this.faults()}${this.cross()}</svg>
      </div>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-surface-map': FoilSurfaceMap;
  }
}
