import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { percentText } from '../../src/report/format-number.ts';
import { coverageOf } from '../controls/words.ts';
import { emit } from '../events.ts';
import type { Selection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import type { Hub } from './hub.ts';
import type { Pictures } from './pictures.ts';
import './foil-plot-menu.ts';
import './foil-surface-map.ts';

/**
 * @summary The surface map with its head, scale and zoom buttons.
 * @fires foil-view - in, out, all, scale
 */
@customElement('foil-map-panel')
export class FoilMapPanel extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        container-type: inline-size;
      }
      @container (max-width: 540px) {
        h2 .muted {
          display: none;
        }
      }
      .between {
        min-height: 34px;
        align-items: center;
      }
      h2 {
        margin: 0;
      }
      .mark {
        border: 2px solid var(--foil-ink);
        border-radius: 3px;
        padding: 0 6px;
      }
      .group button {
        min-height: 28px;
      }
      :host-context([data-density='roomy']) .group button {
        min-height: 48px;
      }
    `,
  ];

  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) hub!: Hub;
  @property({ attribute: false }) selection: Selection = {};
  @property({ attribute: false }) pictures!: Pictures;
  @property({ type: Number }) zoom = 1;
  /** A word that marks what the map shows, such as "Trial"; empty for a result. */
  @property() mark = '';
  @property({ type: Boolean, reflect: true }) stale = false;

  private view(view: string): void {
    emit(this, 'foil-view', { view });
  }

  override render(): TemplateResult {
    const coverage = coverageOf(this.results);
    return html`<div class="between">
        <h2>${this.mark ? html`<span class="mark">${this.mark}</span> ` : nothing}Surface map${coverage === null ? nothing : html` <span class="muted">${percentText(coverage)} measured</span>`}</h2>
        <div class="row">
          <div class="group" role="group" aria-label="Zoom of the map">
            <button aria-label="Zoom out" @click=${() => this.view('out')}>−</button>
            <button aria-label="Zoom in" @click=${() => this.view('in')}>+</button>
            <button @click=${() => this.view('all')}>All</button>
          </div>
          <div class="group">
            <button aria-pressed=${this.hub.geometry.scale === 'stretched'} @click=${() => this.view('scale')}>Stretch</button>
          </div>
          <foil-plot-menu .picture=${this.pictures.map(this.hub.geometry.scale)} ?stale=${this.stale}></foil-plot-menu>
        </div>
      </div>
      <foil-surface-map
        .results=${this.results}
        .hub=${this.hub}
        .selection=${this.selection}
        .zoom=${this.zoom}
        .stale=${this.stale}
      ></foil-surface-map>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-map-panel': FoilMapPanel;
  }
}
