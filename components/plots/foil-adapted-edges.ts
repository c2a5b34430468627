import { consume } from '@lit/context';
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { AdaptedSection } from '../../src/model/adapt-results.ts';
import type { SectionResult } from '../../src/model/results.ts';
import { formatNumber } from '../controls/format.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import {
  type AdaptedEdgePicture,
  adaptedEdgeNumbers,
  adaptedEdges,
  BAR_ROOM,
  EDGE_LINES,
  type EdgeLineName,
  type SectionLines,
  sectionLines,
} from './adapted-edge-geometry.ts';
import './foil-numbers.ts';
import { plotStyles } from './plot-styles.ts';

const LINE_WORDS: Record<EdgeLineName, string> = {
  nominal: 'finished nominal',
  blank: 'blank as forged',
  adapted: 'adapted',
};
/** From the lowest to the uppermost: the thin nominal stays seen where the adapted outline lies on it. */
const ORDER: readonly EdgeLineName[] = ['blank', 'adapted', 'nominal'];
/** Below this width of the element the edges stand one under the other (px). */
const SIDE_BY_SIDE = 560;
const GAP = 24;
const MOST_WIDTH = 520;

/** @summary Both edges of an adapted section, close up at one true scale, over the finished nominal and the blank. */
@customElement('foil-adapted-edges')
export class FoilAdaptedEdges extends LitElement {
  static override styles = [
    base,
    plotStyles,
    css`
      .pictures {
        display: flex;
        flex-wrap: wrap;
        gap: 12px 24px;
      }
      .edge {
        border: 1px solid var(--foil-line);
      }
      .inside {
        overflow: hidden;
      }
      .line {
        fill: none;
        stroke: var(--foil-ink);
        stroke-linejoin: round;
      }
      .line.nominal {
        stroke: var(--foil-second);
        stroke-width: 1.4;
        stroke-dasharray: 7 4;
      }
      .line.blank {
        stroke: var(--foil-muted);
        stroke-width: 1.4;
        stroke-dasharray: 1.5 3;
        stroke-linecap: round;
      }
      .line.adapted {
        stroke-width: 2.6;
      }
      .junction {
        fill: var(--foil-page);
        stroke: var(--foil-ink);
        stroke-width: 1.6;
      }
      .nose {
        stroke: var(--foil-edge);
        stroke-width: 1;
      }
      .key {
        display: flex;
        flex-wrap: wrap;
        gap: 2px 18px;
        margin: 6px 0;
      }
      .key span {
        display: inline-flex;
        align-items: center;
        gap: 6px;
      }
      figure {
        margin: 0;
      }
      h4 {
        margin: 0 0 4px;
        font-size: var(--foil-small);
        font-weight: 600;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) adapted!: AdaptedSection;
  /** Adapted outline, closed, x0, y0, x1, … (mm). */
  @property({ attribute: false }) outline!: Float64Array;
  /** The section of the review nearest to it; its nominal and stock are drawn where it lies at the same height. */
  @property({ attribute: false }) section!: SectionResult;
  @property({ type: Number }) width = 900;
  @property({ type: Boolean, reflect: true }) stale = false;

  private lines(): SectionLines | null {
    const { section, adapted } = this;
    const plot = section.plot;
    if (!plot?.nominal) return null;
    const own = Math.abs(section.height - adapted.height) < 1e-3;
    return sectionLines(plot.nominal, own ? plot.nominal : null, plot, this.outline);
  }

  private setbacks() {
    const of = (edge: string) => this.adapted.edges.find((one) => one.edge === edge)?.setbacks ?? null;
    return { leading: of('leading-edge'), trailing: of('trailing-edge') };
  }

  private picture(edge: AdaptedEdgePicture, size: { width: number; height: number }, bar: TemplateResult | unknown) {
    const { width, height } = size;
    const { end, paths, junctions, nose, suctionUp } = edge;
    const bottom = height - BAR_ROOM;
    const name = end === 'leading' ? 'Leading edge' : 'Trailing edge';
    const height3 = formatNumber(this.adapted.height, 2, this.view.mark);
    const title = `${name} of section ${this.adapted.id} at ${height3} mm`;
    return html`<figure>
      <h4>${name}, ${suctionUp ? 'suction' : 'pressure'} side up</h4>
      <svg class="edge" width=${width} height=${height} role="img" aria-label="${title}: adapted outline over finished nominal and blank, ${junctions.length} junctions marked">
        ${svg`<title>${title}</title>
        <svg class="inside" width=${width} height=${bottom}>
          <path class="nose" d="M${nose} 0V${bottom}"></path>
          ${ORDER.map((line) => svg`<path class="line ${line}" d=${paths[line]}></path>`)}
          ${junctions.map(({ side, x, y }) => svg`<circle class="junction" cx=${x} cy=${y} r="4.5"><title>Junction, ${side} side</title></circle>`)}
        </svg>
        ${bar}`}
      </svg>
      <foil-numbers
        label="the ${end} edge"
        .numbers=${() => adaptedEdgeNumbers(this.lines()!, this.setbacks(), end)}
      ></foil-numbers>
    </figure>`;
  }

  private key(lines: SectionLines): TemplateResult {
    const sample = (line: EdgeLineName) => html`<span>
      <svg width="34" height="10" aria-hidden="true">${svg`<path class="line ${line}" d="M1 5H33"></path>`}</svg>${LINE_WORDS[line]}
    </span>`;
    return html`<div class="key caption">
      ${EDGE_LINES.filter((line) => lines.lines[line] !== null).map(sample)}
      <span>
        <svg width="12" height="12" aria-hidden="true">${svg`<circle class="junction" cx="6" cy="6" r="4.5"></circle>`}</svg>junction at its set-back
      </span>
      <span>
        <svg width="8" height="12" aria-hidden="true">${svg`<path class="nose" d="M4 0V12"></path>`}</svg>nose line
      </span>
    </div>`;
  }

  override render(): TemplateResult | typeof nothing {
    const lines = this.lines();
    if (!lines) return html`<p class="small muted">No outline to draw at this height.</p>`;
    const half = this.width >= SIDE_BY_SIDE ? (this.width - GAP) / 2 : this.width;
    const width = Math.min(MOST_WIDTH, Math.max(240, Math.floor(half)));
    const size = { width, height: Math.round(0.72 * width) };
    const { edges, bar } = adaptedEdges(lines, this.setbacks(), size);
    const { x1, x2, y, text } = bar;
    const ruler = svg`<path class="axis" d="M${x1} ${y - 5}v5H${x2}v-5"></path>
      <text class="tick" x=${x2 + 6} y=${y}>${text.replace('.', this.view.mark)}</text>`;
    return html`${this.key(lines)}
      <div class="pictures">${edges.map((edge) => this.picture(edge, size, ruler))}</div>
      ${lines.lines.nominal === null ? html`<p class="small muted">The review has no section at this height: nominal and blank are not drawn.</p>` : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-adapted-edges': FoilAdaptedEdges;
  }
}
