import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { emit } from '../events.ts';
import type { Preferences } from '../state/app-state.ts';
import { base } from '../styles/base.ts';

const THEMES: [Preferences['theme'], string][] = [
  ['system', 'As the system'],
  ['light', 'Light'],
  ['dark', 'Dark'],
];
const DENSITIES: [Preferences['density'], string][] = [
  ['auto', 'By the pointer in use'],
  ['compact', 'Compact'],
  ['roomy', 'Roomy, for gloves and tablets'],
];
const MARKS: [Preferences['mark'], string][] = [
  ['.', 'Point: 0.435'],
  [',', 'Comma: 0,435'],
];

/**
 * @summary How the app looks and answers to keys, as a dialog. Changes act at once.
 * @fires foil-preferences - one changed setting
 */
@customElement('foil-settings')
export class FoilSettings extends LitElement {
  static override styles = [
    base,
    css`
      dialog {
        border: 1px solid var(--foil-ink);
        border-radius: 4px;
        background: var(--foil-page);
        color: var(--foil-ink);
        width: min(400px, 92vw);
        padding: 16px 20px 20px;
        margin: 56px clamp(12px, 2.2vw, 32px) 0 auto;
      }
      dialog::backdrop {
        background: rgb(10 12 14 / 12%);
      }
      .fields {
        display: grid;
        gap: 12px;
        margin-top: 6px;
        font-size: var(--foil-small);
      }
      .fields > label:not(.choice) {
        display: grid;
        gap: 3px;
      }
      select {
        width: 100%;
      }
    `,
  ];

  @property({ attribute: false }) preferences!: Preferences;
  @query('dialog') private dialog!: HTMLDialogElement;

  show(): void {
    if (!this.dialog.open) this.dialog.showModal();
  }

  private choice<K extends 'theme' | 'density' | 'mark'>(
    label: string,
    key: K,
    options: readonly [Preferences[K], string][],
  ): TemplateResult {
    const now = this.preferences[key];
    const changed = (e: Event): boolean =>
      emit(this, 'foil-preferences', { [key]: (e.target as HTMLSelectElement).value } as Partial<Preferences>);
    return html`<label
      >${label}
      <select @change=${changed}>
        ${options.map(([value, word]) => html`<option .value=${value} ?selected=${value === now}>${word}</option>`)}
      </select>
    </label>`;
  }

  override render(): TemplateResult {
    const letters = (e: Event): boolean =>
      emit(this, 'foil-preferences', { letterKeys: (e.target as HTMLInputElement).checked });
    return html`<dialog aria-labelledby="head">
      <div class="between">
        <h2 id="head">Settings</h2>
        <button @click=${() => this.dialog.close()}>Close</button>
      </div>
      <div class="fields">
        ${this.choice('Light or dark', 'theme', THEMES)} ${this.choice('Density', 'density', DENSITIES)}
        ${this.choice('Decimal mark on screen', 'mark', MARKS)}
        <label class="choice"
          ><input type="checkbox" .checked=${this.preferences.letterKeys} @change=${letters} />Letter keys act in the view with the focus</label
        >
      </div>
    </dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-settings': FoilSettings;
  }
}
