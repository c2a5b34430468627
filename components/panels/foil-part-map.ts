import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { HubController } from '../plots/hub-controller.ts';
import { picturesOf } from '../plots/pictures.ts';
import { type AppState, usedPlan } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-colour-key.ts';
import '../controls/foil-readout.ts';
import '../plots/foil-map-panel.ts';
import '../viewer/foil-blade-view.ts';

/** @summary The place on the Part page: map with what is measured, read-out, 3D. */
@customElement('foil-part-map')
export class FoilPartMap extends LitElement {
  static override styles = [
    base,
    css`
      .grid {
        display: grid;
        grid-template-columns: minmax(0, 3fr) minmax(220px, 2fr);
        gap: 24px;
      }
      .side {
        display: grid;
        gap: 16px;
        align-content: start;
        --foil-view-height: 260px;
      }
      @media (max-width: 900px) {
        .side {
          --foil-view-height: 200px;
        }
      }
      @media (max-width: 620px) {
        .grid {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) state!: AppState;
  @query('.map') private mapColumn!: HTMLElement;

  private hub = new HubController(
    this,
    () => this.mapColumn,
    (width) => Math.min(520, Math.max(320, width)),
  );

  override render(): TemplateResult | typeof nothing {
    const { results, drawing, selection, stale } = this.state;
    if (!results) return nothing;
    const { limits, plain, zoomed } = this.hub.layout(results);
    const old = stale !== null;
    return html`<div class="grid" @foil-view=${this.hub.onView} @foil-limits-change=${this.hub.onTrial}>
        <div class="map" data-area>
          ${
            plain && zoomed
              ? html`<foil-map-panel
                .results=${results}
                .pictures=${picturesOf(results, usedPlan(this.state), limits)}
                .hub=${zoomed}
                .selection=${selection}
                .zoom=${this.hub.zoom}
                .stale=${old}
              ></foil-map-panel>`
              : nothing
          }
        </div>
        <div class="side" data-area>
          <foil-readout .results=${results} .limits=${limits} .selection=${selection}></foil-readout>
          ${
            drawing
              ? html`<foil-blade-view
                .results=${results}
                .drawing=${drawing}
                .limits=${limits}
                .selection=${selection}
                .theme=${this.view.theme}
                .stale=${old}
              ></foil-blade-view>`
              : nothing
          }
        </div>
      </div>
      <foil-colour-key .limits=${limits} .trial=${this.hub.trial} @foil-limits-change=${this.hub.onTrial}></foil-colour-key>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-part-map': FoilPartMap;
  }
}
