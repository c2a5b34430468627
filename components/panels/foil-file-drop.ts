import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { emit } from '../events.ts';
import { base } from '../styles/base.ts';

/**
 * @summary A place to drop a file on, with a button that opens the picker.
 * @fires foil-files - the files dropped or picked
 */
@customElement('foil-file-drop')
export class FoilFileDrop extends LitElement {
  static override styles = [
    base,
    css`
      .drop {
        border: 1px dashed var(--foil-edge);
        border-radius: 4px;
        padding: 14px 16px;
        display: grid;
        gap: 8px;
        justify-items: start;
        min-height: 96px;
        align-content: center;
      }
      .drop[data-over] {
        border: 2px solid var(--foil-ink);
        background: var(--foil-hover);
        padding: 13px 15px;
      }
    `,
  ];

  /** Words of what is wanted, such as "the nominal shape". */
  @property() takes = '';
  /** Formats in words. */
  @property() formats = '';
  /** File name endings of the picker. */
  @property() endings = '';
  @property({ type: Boolean }) multiple = false;
  @state() private over = false;
  @query('input') private input!: HTMLInputElement;

  private drag(event: DragEvent): void {
    event.preventDefault();
    this.over = true;
  }

  private drop(event: DragEvent): void {
    event.preventDefault();
    event.stopPropagation();
    this.over = false;
    this.hand([...(event.dataTransfer?.files ?? [])]);
  }

  private picked(): void {
    this.hand([...(this.input.files ?? [])]);
    this.input.value = '';
  }

  private hand(files: File[]): void {
    if (files.length > 0) emit(this, 'foil-files', { files: this.multiple ? files : files.slice(0, 1) });
  }

  override render(): TemplateResult {
    return html`<div
      class="drop"
      ?data-over=${this.over}
      @dragover=${this.drag}
      @dragleave=${() => {
        this.over = false;
      }}
      @drop=${this.drop}
    >
      <div class="row">
        <button @click=${() => this.input.click()}>Choose ${this.takes}</button>
        <span class="small muted">or drop ${this.multiple ? 'files' : 'the file'} here</span>
      </div>
      <span class="small muted">${this.formats}</span>
      <input hidden type="file" aria-label="File: ${this.takes}" accept=${this.endings} ?multiple=${this.multiple} @change=${this.picked} />
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-file-drop': FoilFileDrop;
  }
}
