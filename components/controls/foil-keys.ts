import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { base } from '../styles/base.ts';

const KEYS: [string, [string, string][]][] = [
  [
    'Anywhere',
    [
      ['Tab', 'next control'],
      ['F6 / Shift+F6', 'next / previous area'],
      ['Ctrl+O', 'open files'],
      ['?', 'this list'],
      ['Esc', 'stop or close'],
    ],
  ],
  [
    'Map',
    [
      ['← →', 'along the outline'],
      ['↑ ↓', 'section'],
      ['Shift with arrows', 'ten times as far'],
      ['Home / End', 'leading edge / trailing edge of this side'],
      ['N / Shift+N', 'next / previous worst place'],
      ['Enter', 'pin the read-out'],
      ['+ − 0', 'zoom in, out, all'],
    ],
  ],
  [
    'Section and outline plots',
    [
      ['← →', 'along the outline'],
      ['PgUp / PgDn', 'section'],
      ['+ −', 'magnification'],
      ['T', 'true scale'],
    ],
  ],
  [
    'Trend panels',
    [
      ['↑ ↓', 'section'],
      ['← →', 'panel'],
      ['Enter', 'go to the characteristic'],
    ],
  ],
  [
    '3D',
    [
      ['arrows', 'turn 5°'],
      ['Shift with arrows', 'move'],
      ['+ −', 'zoom'],
      ['0', 'fit'],
      ['1 … 6', 'named directions'],
    ],
  ],
  [
    'Alignment of a blank',
    [
      ['← →', 'on a curve: one step of its value'],
      ['Shift with arrows', 'ten steps'],
      ['L', 'lock or free the value with the focus'],
    ],
  ],
  [
    'Fit range of an edge',
    [
      ['← →', 'one degree narrower / wider'],
      ['Shift with arrows', 'ten degrees'],
      ['Home / End', 'narrowest / widest'],
    ],
  ],
  [
    'Table',
    [
      ['arrows, Home, End, PgUp, PgDn', 'move between cells'],
      ['Enter', 'show the place; on How?, open it'],
      ['Ctrl+C', 'copy the row with head and units'],
    ],
  ],
];

/** @summary The list of keys, as a dialog. */
@customElement('foil-keys')
export class FoilKeys extends LitElement {
  static override styles = [
    base,
    css`
      dialog {
        border: 1px solid var(--foil-ink);
        border-radius: 4px;
        background: var(--foil-page);
        color: var(--foil-ink);
        max-width: min(860px, 92vw);
        max-height: 88vh;
        padding: 18px 22px;
      }
      dialog::backdrop {
        background: rgb(10 12 14 / 45%);
      }
      .columns {
        columns: 3 230px;
        column-gap: 28px;
      }
      section {
        break-inside: avoid;
        margin-bottom: 14px;
      }
      dl {
        display: grid;
        grid-template-columns: max-content 1fr;
        gap: 2px 12px;
        margin: 0;
        font-size: var(--foil-small);
      }
      dt {
        font-weight: 600;
      }
      dd {
        margin: 0;
      }
    `,
  ];

  @property({ type: Boolean }) letterKeys = true;
  @query('dialog') private dialog!: HTMLDialogElement;

  show(): void {
    if (!this.dialog.open) this.dialog.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="head">
      <div class="between">
        <h2 id="head">Keys</h2>
        <button @click=${() => this.dialog.close()}>Close</button>
      </div>
      <p class="small muted">Letters act only while a view has the focus.</p>
      <div class="columns">
        ${KEYS.map(
          ([where, keys]) => html`<section>
            <h3>${where}</h3>
            <dl>${keys.map(([key, does]) => html`<dt>${key}</dt><dd>${does}</dd>`)}</dl>
          </section>`,
        )}
      </div>
    </dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-keys': FoilKeys;
  }
}
