import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { LengthUnit } from '../../src/model/shape.ts';
import { formatNumber } from '../controls/format.ts';
import { emit } from '../events.ts';
import { type FileEntry, needsUnit, type Settings } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import { sizeText } from './foil-file-card.ts';
import { parseHeights } from './parse-heights.ts';

const DIRECTIONS = ['-X', '+X', '-Y', '+Y'] as const;

/**
 * @summary What must be certain before measuring: units, leading edge direction, section heights.
 * @fires foil-unit - the unit chosen for one file
 * @fires foil-settings - a changed setting
 */
@customElement('foil-import-check')
export class FoilImportCheck extends LitElement {
  static override styles = [
    base,
    css`
      .grid {
        display: grid;
        grid-template-columns: minmax(9em, max-content) minmax(0, 1fr);
        gap: 8px 20px;
        align-items: baseline;
        font-size: var(--foil-small);
      }
      .label {
        font-weight: 600;
      }
      fieldset {
        border: 0;
        margin: 0;
        padding: 0;
        min-width: 0;
      }
      legend {
        padding: 0;
        overflow-wrap: anywhere;
      }
      .open {
        border-left: 3px solid var(--foil-ink);
        padding-left: 10px;
      }
      .heights {
        width: min(22em, 100%);
      }
      @media (max-width: 560px) {
        .grid {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) files: FileEntry[] = [];
  @property({ attribute: false }) settings!: Settings;
  @state() private badHeights = false;

  private unitChoice(file: FileEntry): TemplateResult {
    const { mark } = this.view;
    const box = file.shape!.box;
    const choice = (unit: LengthUnit, factor: number): TemplateResult => html`<label class="choice">
      <input
        type="radio"
        name=${file.key}
        .checked=${file.unit === unit}
        @change=${() => emit(this, 'foil-unit', { key: file.key, unit })}
      />
      ${unit}: part is <span class="number">${sizeText(box, mark, factor)} mm</span>
    </label>`;
    return html`<fieldset class=${needsUnit(file) ? 'open' : ''}>
      <legend>${file.name} does not say its unit. Which is right?</legend>
      <div class="row">${choice('mm', 1)} ${choice('inch', 25.4)}</div>
    </fieldset>`;
  }

  private direction(event: Event): void {
    const value = (event.target as HTMLSelectElement).value;
    const leadingEdgeTowards = value === '' ? null : (value as (typeof DIRECTIONS)[number]);
    emit(this, 'foil-settings', { change: { leadingEdgeTowards }, what: 'The leading edge direction was changed' });
  }

  private heights(event: Event): void {
    const text = (event.target as HTMLInputElement).value;
    const heights = text.trim() === '' ? null : parseHeights(text);
    this.badHeights = text.trim() !== '' && heights === null;
    if (!this.badHeights)
      emit(this, 'foil-settings', { change: { heights }, what: 'The section heights were changed' });
  }

  override render(): TemplateResult {
    const shapes = this.files.filter((f) => f.shape !== null);
    const unstated = shapes.filter((f) => !f.shape!.unitStated);
    const plan = this.files.find((f) => f.plan)?.plan ?? null;
    const { mark } = this.view;
    return html`<h2>Check before measuring</h2>
      <div class="grid">
        <span class="label">Units</span>
        <div>
          ${
            unstated.length === 0
              ? html`<span class="muted">${shapes.length === 0 ? 'Shown when the files are read.' : 'All files state their unit.'}</span>`
              : unstated.map((f) => this.unitChoice(f))
          }
        </div>
        <label class="label" for="direction">Leading edge towards</label>
        <div class="row">
          <select id="direction" @change=${this.direction}>
            <option value="" ?selected=${this.settings.leadingEdgeTowards === null}>
              ${plan?.leadingEdgeTowards ? `${plan.leadingEdgeTowards} (plan)` : '−X (default)'}
            </option>
            ${DIRECTIONS.map(
              (d) =>
                html`<option value=${d} ?selected=${this.settings.leadingEdgeTowards === d}>${d.replace('-', '−')}</option>`,
            )}
          </select>
          <span class="muted">tip towards +Z, in the nominal file's axes</span>
        </div>
        <label class="label" for="heights">Section heights</label>
        <div>
          <input
            id="heights"
            class="heights"
            type="text"
            aria-invalid=${this.badHeights}
            aria-describedby="heights-note"
            placeholder=${plan?.heights ? plan.heights.map((h) => formatNumber(h, 1, mark)).join('; ') : 'those of the nominal, else every 10 %'}
            .value=${this.settings.heights?.map((h) => String(h).replace('.', mark)).join('; ') ?? ''}
            @change=${this.heights}
          />
          <span id="heights-note" class=${this.badHeights ? '' : 'muted'}
            >${this.badHeights ? 'Type numbers in mm with a semicolon or blank between them.' : 'mm, with a semicolon between them'}</span
          >
        </div>
        ${
          plan
            ? html`<span class="label">Limits</span><span>${plan.characteristics} characteristics and ${plan.zones} zones from ${plan.name}</span>`
            : html`<span class="label">Limits</span><span class="muted">No plan: every result is shown with “No limit”.</span>`
        }
        ${
          plan?.equipment != null
            ? html`<span class="label">Equipment uncertainty</span><span>u ${formatNumber(plan.equipment, 4, mark)} mm (k = 1), added to what is found in the data</span>`
            : nothing
        }
      </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-import-check': FoilImportCheck;
  }
}
