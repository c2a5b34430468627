import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { csvText } from '../../src/report/csv.ts';
import { pngOf, saveFile } from '../controls/save-file.ts';
import { emit } from '../events.ts';
import { base } from '../styles/base.ts';
import { type Numbers, numbersText } from './plot-numbers.ts';

/** A picture that can leave the app: self-contained, light, with title and key; and the numbers it draws. */
export interface Picture {
  /** What it shows, such as "surface map". */
  view: string;
  /** File name without its ending: part and view. */
  file: string;
  svg: () => string;
  numbers: () => Numbers;
}

/** Size of a PNG against the picture's own. */
const PNG_FACTOR = 2;

/**
 * @summary One small button a plot: save it as SVG or PNG, save or copy its numbers.
 * @fires foil-copy - text put on the clipboard
 */
@customElement('foil-plot-menu')
export class FoilPlotMenu extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: inline-block;
      }
      .opener {
        min-height: 28px;
        padding: 0 9px;
      }
      :host-context([data-density='roomy']) .opener {
        min-height: 48px;
      }
      [role='menu'] {
        position: absolute;
        inset: auto;
        margin: 0;
        padding: 4px;
        border: 1px solid var(--foil-edge);
        border-radius: 4px;
        background: var(--foil-page);
        color: var(--foil-ink);
      }
      [role='menuitem'] {
        display: block;
        width: 100%;
        border-color: transparent;
        text-align: left;
        white-space: nowrap;
      }
    `,
  ];

  @property({ attribute: false }) picture!: Picture;
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private open = false;
  @state() private said = '';
  @query('.opener') private opener!: HTMLButtonElement;
  @query('[role=menu]') private menu!: HTMLElement;

  private get items(): HTMLElement[] {
    return [...this.menu.querySelectorAll<HTMLElement>('[role=menuitem]')];
  }

  private toggle(): void {
    this.menu.togglePopover();
    if (!this.menu.matches(':popover-open')) return;
    const from = this.opener.getBoundingClientRect();
    const left = Math.max(4, Math.min(from.right, document.documentElement.clientWidth - 4) - this.menu.offsetWidth);
    this.menu.style.left = `${left + scrollX}px`;
    this.menu.style.top = `${from.bottom + 3 + scrollY}px`;
    this.items[0].focus();
  }

  private key(event: KeyboardEvent): void {
    const { items } = this;
    const now = items.indexOf((this.renderRoot as ShadowRoot).activeElement as HTMLElement);
    const steps: Record<string, number> = {
      ArrowDown: (now + 1) % items.length,
      ArrowUp: (now + items.length - 1) % items.length,
      Home: 0,
      End: items.length - 1,
    };
    if (event.key === 'Escape' || event.key === 'Tab') {
      this.menu.hidePopover();
      this.opener.focus();
      if (event.key === 'Tab') return;
    } else if (event.key in steps) items[steps[event.key]].focus();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  private async run(what: string, act: () => Promise<void> | void): Promise<void> {
    this.menu.hidePopover();
    this.opener.focus();
    try {
      await act();
      this.said = what;
    } catch (error) {
      this.said = `Not done: ${(error as Error).message}`;
    }
  }

  private saveSvg(): void {
    saveFile(`${this.picture.file}.svg`, new Blob([this.picture.svg()], { type: 'image/svg+xml' }));
  }

  private async savePng(): Promise<void> {
    saveFile(`${this.picture.file}.png`, await pngOf(this.picture.svg(), PNG_FACTOR));
  }

  private saveCsv(): void {
    const { heads, rows } = this.picture.numbers();
    saveFile(`${this.picture.file}.csv`, new Blob([csvText([heads, ...rows])], { type: 'text/csv' }));
  }

  private async copy(): Promise<void> {
    const text = numbersText(this.picture.numbers());
    await navigator.clipboard.writeText(text);
    emit(this, 'foil-copy', { text });
  }

  override render(): TemplateResult {
    const item = (word: string, done: string, act: () => Promise<void> | void): TemplateResult =>
      html`<button role="menuitem" tabindex="-1" @click=${() => this.run(done, act)}>${word}</button>`;
    return html`<button
        class="opener"
        aria-haspopup="menu"
        aria-expanded=${this.open}
        aria-label="Save or copy: ${this.picture.view}"
        title=${this.stale ? 'Out of date: measure again first' : 'Save or copy'}
        ?disabled=${this.stale}
        @click=${this.toggle}
      >
        Save
      </button>
      <div
        role="menu"
        popover="auto"
        aria-label="Save or copy: ${this.picture.view}"
        @keydown=${this.key}
        @beforetoggle=${(e: ToggleEvent) => {
          this.open = e.newState === 'open';
        }}
      >
        ${item('Picture (SVG)', 'Picture saved.', () => this.saveSvg())}
        ${item('Picture (PNG)', 'Picture saved.', () => this.savePng())}
        ${item('Numbers (CSV)', 'Numbers saved.', () => this.saveCsv())}
        ${item('Copy numbers', 'Numbers copied.', () => this.copy())}
      </div>
      <span class="out" role="status">${this.said}</span>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-plot-menu': FoilPlotMenu;
  }
}
