import { consume } from '@lit/context';
import { html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import './foil-numbers.ts';
import './foil-plot-menu.ts';
import type { Pictures } from './pictures.ts';
import { sectionKey } from './plot-keys.ts';
import { plotStyles } from './plot-styles.ts';
import { type Strip, type StripGeometry, stripGeometry } from './strip-geometry.ts';

const MARGIN = { left: 62, top: 8, right: 12, bottom: 36 };

/**
 * @summary One narrow plot under the section: curvature, thickness or waves.
 * @fires foil-select - a place chosen by pointer or keys, where the strip runs along the outline
 */
@customElement('foil-section-strip')
export class FoilSectionStrip extends LitElement {
  static override styles = [base, plotStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) section!: SectionResult;
  @property({ attribute: false }) strip!: Strip;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) pictures!: Pictures;
  @property({ type: Number }) width = 420;
  @property({ type: Number }) height = 140;
  @property({ type: Boolean, reflect: true }) stale = false;
  @query('svg') private svgElement!: SVGSVGElement;

  private geometry(): StripGeometry {
    return stripGeometry(this.strip, { width: this.width, height: this.height, margin: MARGIN });
  }

  private pick(event: PointerEvent): void {
    if (!this.strip.isAlong) return;
    if (event.type === 'pointermove' && !this.svgElement.hasPointerCapture(event.pointerId)) return;
    if (event.type === 'pointerdown') this.svgElement.setPointerCapture(event.pointerId);
    const [from, to] = this.strip.domain;
    const along = this.geometry().x.invert(event.clientX - this.svgElement.getBoundingClientRect().left);
    emit(this, 'foil-select', selectPlace(this.results, this.section.height, Math.max(from, Math.min(to, along))));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = sectionKey(event.key, event.shiftKey, this.results, this.section, this.selection);
    if (!next) return;
    event.preventDefault();
    emit(this, 'foil-select', next);
  }

  private cross(g: StripGeometry) {
    const { along } = this.selection;
    const { isAlong, domain } = this.strip;
    if (!isAlong || along === undefined || along < domain[0] || along > domain[1]) return nothing;
    return svg`<path class="cross" d="M${g.x(along)} ${g.plot.y}v${g.plot.height}"></path>`;
  }

  override render(): TemplateResult {
    const { strip } = this;
    const { mark } = this.view;
    const g = this.geometry();
    const { plot } = g;
    const bottom = plot.y + plot.height;
    const text = (t: string): string => t.replace('.', mark);
    return html`<div class="between">
        <h3>${strip.title}</h3>
        <foil-plot-menu .picture=${this.pictures.strip(this.section, strip)} ?stale=${this.stale}></foil-plot-menu>
      </div>
      <svg
        class="focus"
        width=${g.width}
        height=${g.height}
        tabindex="0"
        role="application"
        aria-roledescription="plot"
        aria-label="${strip.title}, section ${this.section.id}. Arrow keys step along the outline, Page Up and Page Down change the section."
        @pointerdown=${this.pick}
        @pointermove=${this.pick}
        @keydown=${this.key}
      >
        ${g.valueTicks.map(
          (t) => svg`<path class="grid" d="M${plot.x} ${t.at}h${plot.width}"></path>
          <text class="tick" x=${plot.x - 6} y=${t.at + 4} text-anchor="end">${text(t.text)}</text>`,
        )}
        <path d=${g.band} fill="var(--foil-edge)" opacity="0.28"></path>
        ${g.zero === null ? nothing : svg`<path class="axis" d="M${plot.x} ${g.zero}h${plot.width}"></path>`}
        <path class="nominal" d=${g.nominal}></path>
        <path class="measured" d=${g.line}></path>
        ${g.acrossTicks.map((t) => svg`<text class="tick" x=${t.at} y=${bottom + 15} text-anchor="middle">${text(t.text)}</text>`)}
        <text class="tick" x=${plot.x} y=${bottom + 31}>${strip.across}${g.band ? ' · grey: ±U' : ''}${g.nominal ? ' · dashed: nominal' : ''}</text>
        ${this.cross(g)}
      </svg>
      <foil-numbers .label=${strip.title} .numbers=${() => strip.numbers}></foil-numbers>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-section-strip': FoilSectionStrip;
  }
}
