import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { emit, type FoilEvent } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Choice, edgeRadius, sameChoice, type Trial } from '../state/definition-choice.ts';
import { base } from '../styles/base.ts';
import { parametersText, resultText } from './how-facts.ts';
import { rangeSpec } from './range-spec.ts';
import '../controls/foil-number.ts';
import '../controls/foil-verdict.ts';
import '../plots/foil-edge-closeup.ts';

/**
 * @summary One edge of the section: close-up with its fitted curve, fit range to drag or type, and the radius that follows.
 * @fires foil-attempt - the radius over another range
 * @fires foil-use - the range is to be used from now on
 * @fires foil-how - how the radius came about is asked for
 */
@customElement('foil-edge-panel')
export class FoilEdgePanel extends LitElement {
  static override styles = [
    base,
    css`
      .between {
        align-items: center;
      }
      h3 {
        margin: 0;
      }
      .result {
        font-size: var(--foil-small);
        min-height: 24px;
      }
      .result strong {
        font-weight: 600;
      }
      button {
        min-height: 28px;
        padding: 0 9px;
      }
      :host-context([data-density='roomy']) button {
        min-height: 48px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property() edge: 'leading' | 'trailing' = 'leading';
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) section!: SectionResult;
  @property({ attribute: false }) definitions: DefinitionsByPath | null = null;
  @property({ attribute: false }) trial: Trial | null = null;
  @property({ type: Number }) width = 420;
  @property({ type: Boolean, reflect: true }) stale = false;

  private attempt(of: string, choice: Choice): void {
    if (this.stale) return;
    emit(this, 'foil-attempt', { slot: this.edge, ask: { section: this.section.id, of, ...choice } });
  }

  private use(of: string, now: Choice, before: Choice): void {
    emit(this, 'foil-use', { now: { of, ...now }, before: { of, ...before } });
  }

  override render(): TemplateResult {
    const { trial, edge, section } = this;
    const head = html`<h3>${edge === 'leading' ? 'Leading' : 'Trailing'} edge, close up</h3>`;
    const radius = edgeRadius(this.results, section, edge, this.definitions);
    if (!radius || !trial || trial.ask.section !== section.id)
      return html`${head}<p class="small muted">${radius ? 'Measuring …' : 'This edge was not measured.'}</p>`;
    const { of, choice: own, row: listed } = radius;
    const choice = { definition: trial.ask.definition, parameters: trial.ask.parameters ?? {} };
    const info = this.definitions?.[of]?.find((one) => one.id === choice.definition) ?? null;
    const range = info ? rangeSpec(info) : null;
    const half = range ? Number(choice.parameters[range.name]) : 0;
    const set = (value: number): void =>
      this.attempt(of, { ...choice, parameters: { ...choice.parameters, [range!.name]: value } });
    const typed = (e: FoilEvent<'foil-input'>): void => {
      e.stopPropagation();
      set(e.detail.value);
    };
    const row = trial.reply?.row ?? null;
    const other = !sameChoice(choice, own);
    const { mark } = this.view;
    return html`<div class="between">
        ${head}
        <div class="row">
          ${
            range
              ? html`<span class="small">${range.label}</span>
                <foil-number
                  .label="${edge} edge, ${range.label}"
                  .value=${half}
                  unit="°"
                  .min=${range.least}
                  .max=${range.most}
                  .step=${1}
                  .decimals=${0}
                  ?disabled=${this.stale}
                  @foil-input=${typed}
                  @foil-change=${typed}
                ></foil-number>`
              : nothing
          }
        </div>
      </div>
      <div class="between result">
        <span aria-live="polite" class="row">
          <span>radius <strong class="number">${row ? resultText(row, mark) : 'not measured'}</strong></span>
          ${row ? html`<foil-verdict .verdict=${row.verdict}></foil-verdict>` : nothing}
          ${other ? html`<span class="muted">tried; in use: ${parametersText(own.parameters, info?.parameters ?? [], mark)}</span>` : nothing}
        </span>
        <span class="row">
          ${
            other
              ? html`<button @click=${() => this.attempt(of, own)}>Back</button>
                <button ?disabled=${!trial.answered || this.stale} @click=${() => this.use(of, choice, own)}>Use</button>`
              : nothing
          }
          ${listed ? html`<button aria-haspopup="dialog" aria-label="How? Radius of the ${edge} edge" @click=${() => emit(this, 'foil-how', { characteristicId: listed.id })}>How?</button>` : nothing}
        </span>
      </div>
      ${trial.failure ? html`<p class="small" role="alert">${trial.failure.message} ${trial.failure.remedy}</p>` : nothing}
      <foil-edge-closeup
        .edge=${edge}
        .trial=${trial}
        .range=${range}
        .width=${this.width}
        .stale=${this.stale}
        @foil-fit-range=${(e: FoilEvent<'foil-fit-range'>) => {
          e.stopPropagation();
          set(e.detail.halfAngleDeg);
        }}
      ></foil-edge-closeup>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-edge-panel': FoilEdgePanel;
  }
}
