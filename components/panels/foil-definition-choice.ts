import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { DefinitionInfo } from '../../src/judge/definition-info.ts';
import type { ParameterSpec } from '../../src/measure/definitions/definition.ts';
import { unitText } from '../../src/report/format-number.ts';
import { emit, type FoilEvent } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Choice, defaultParameters } from '../state/definition-choice.ts';
import { base } from '../styles/base.ts';
import { plainWords } from './how-facts.ts';
import '../controls/foil-number.ts';
import '../drawings/foil-definition-drawing.ts';

const STEPS: Record<string, { step: number; decimals: number }> = {
  deg: { step: 1, decimals: 1 },
  mm: { step: 0.05, decimals: 3 },
  '1': { step: 0.01, decimals: 3 },
};

/**
 * @summary The definitions a quantity may be measured by, each with its drawing; the chosen one with its parameters.
 * @fires foil-choice - another definition or parameter
 */
@customElement('foil-definition-choice')
export class FoilDefinitionChoice extends LitElement {
  static override styles = [
    base,
    css`
      fieldset {
        border: 0;
        margin: 0;
        padding: 0;
      }
      legend {
        padding: 0;
        font-size: var(--foil-small);
        font-weight: 650;
      }
      .one {
        display: grid;
        grid-template-columns: 18px 118px minmax(0, 1fr);
        gap: 4px 12px;
        padding: 8px 6px 8px 12px;
        border-bottom: 1px solid var(--foil-line);
      }
      .one[data-chosen] {
        background: var(--foil-panel);
        box-shadow: inset 3px 0 0 var(--foil-ink);
      }
      .one input {
        margin-top: 3px;
      }
      label {
        font-weight: 600;
        font-size: 0.95rem;
        cursor: pointer;
      }
      .words {
        font-size: var(--foil-small);
      }
      .parameters {
        display: grid;
        gap: 4px;
        margin-top: 8px;
      }
      .parameter,
      label.parameter {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 4px 10px;
        font-size: var(--foil-small);
        font-weight: 400;
      }
      .parameter > span {
        min-width: 9em;
      }
      .tag {
        font-weight: 400;
        color: var(--foil-muted);
        font-size: var(--foil-small);
        margin-left: 6px;
      }
      @media (max-width: 560px) {
        .one {
          grid-template-columns: 18px minmax(0, 1fr);
        }
        foil-definition-drawing {
          grid-column: 2;
          max-width: 150px;
        }
        .words {
          grid-column: 2;
        }
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property() of = '';
  @property({ attribute: false }) infos: readonly DefinitionInfo[] = [];
  @property({ attribute: false }) choice!: Choice;
  /** Id of the definition in use. */
  @property() used = '';

  private choose(info: DefinitionInfo): void {
    emit(this, 'foil-choice', { definition: info.id, parameters: defaultParameters(info) });
  }

  private set(name: string, value: number | string): void {
    const { definition, parameters } = this.choice;
    if (parameters[name] !== value)
      emit(this, 'foil-choice', { definition, parameters: { ...parameters, [name]: value } });
  }

  private parameter(spec: ParameterSpec): TemplateResult {
    const value = this.choice.parameters[spec.name] ?? spec.default;
    if ('choices' in spec)
      return html`<label class="parameter"
        ><span>${spec.label}</span>
        <select @change=${(e: Event) => this.set(spec.name, (e.target as HTMLSelectElement).value)}>
          ${spec.choices.map((word) => html`<option value=${word} ?selected=${word === value}>${plainWords(word)}</option>`)}
        </select></label
      >`;
    const typed = (e: FoilEvent<'foil-input'>): void => {
      e.stopPropagation();
      this.set(spec.name, e.detail.value);
    };
    return html`<div class="parameter">
      <span>${spec.label}</span>
      <foil-number
        .label=${spec.label}
        .value=${Number(value)}
        .unit=${unitText(spec.unit)}
        .min=${spec.least}
        .max=${spec.most}
        .step=${STEPS[spec.unit].step}
        .decimals=${STEPS[spec.unit].decimals}
        @foil-input=${typed}
        @foil-change=${typed}
      ></foil-number>
    </div>`;
  }

  override render(): TemplateResult {
    return html`<fieldset>
      <legend>Measured by</legend>
      ${this.infos.map((info) => {
        const chosen = info.id === this.choice.definition;
        return html`<div class="one" ?data-chosen=${chosen}>
          <input
            type="radio"
            name="definition"
            id=${info.id}
            .checked=${chosen}
            aria-describedby="about-${info.id}"
            @change=${() => this.choose(info)}
          />
          <foil-definition-drawing .definition=${info.id} .of=${this.of}></foil-definition-drawing>
          <div class="words">
            <label for=${info.id}>${info.name}</label><span class="tag">${info.id}${info.id === this.used ? ', in use' : ''}</span>
            <p id="about-${info.id}" class="muted">${info.meaning}</p>
            ${
              chosen && info.parameters.length > 0
                ? html`<div class="parameters">${info.parameters.map((spec) => this.parameter(spec))}</div>`
                : nothing
            }
          </div>
        </div>`;
      })}
    </fieldset>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-definition-choice': FoilDefinitionChoice;
  }
}
