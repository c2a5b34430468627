import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Characteristic, Results } from '../../src/model/results.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Selection, selectCharacteristic } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { COLUMNS, cellText, copyText, type Filter, filteredRows, gridMove } from './table-rows.ts';
import '../controls/foil-verdict.ts';

const FILTERS: [Filter, string][] = [
  ['all', 'All'],
  ['not-passing', 'Not passing'],
  ['not-measured', 'Not measured'],
];

/** Column of the How? buttons, after those that are copied. */
const HOW = COLUMNS.length;

/**
 * @summary The characteristics against their requirements; a grid with the usual keys.
 * @fires foil-select - the place of a row
 * @fires foil-filter - the rows shown
 * @fires foil-copy - text put on the clipboard
 * @fires foil-definitions - the list of definitions in use is asked for
 * @fires foil-how - how the number of a row came about is asked for
 */
@customElement('foil-characteristic-table')
export class FoilCharacteristicTable extends LitElement {
  static override styles = [
    base,
    css`
      .scroll {
        overflow: auto;
        max-height: 60vh;
        border-top: 1px solid var(--foil-edge);
        border-bottom: 1px solid var(--foil-edge);
      }
      table {
        border-collapse: collapse;
        width: 100%;
        font-size: var(--foil-small);
      }
      th,
      td {
        text-align: left;
        padding: 0 14px 0 6px;
        height: var(--foil-row);
        white-space: nowrap;
        border-bottom: 1px solid var(--foil-line);
        font-weight: 400;
      }
      thead th {
        position: sticky;
        top: 0;
        background: var(--foil-page);
        color: var(--foil-muted);
        z-index: 1;
      }
      .numeric {
        text-align: right;
      }
      foil-verdict {
        vertical-align: middle;
      }
      tbody tr {
        cursor: pointer;
      }
      tbody tr:hover td {
        background: var(--foil-hover);
      }
      tr[aria-selected='true'] td {
        background: var(--foil-hover);
        font-weight: 600;
      }
      tr.here td:first-child {
        box-shadow: inset 3px 0 0 var(--foil-ink);
      }
      td:focus-visible {
        outline-offset: -2px;
      }
      .how {
        position: sticky;
        right: 0;
        background: var(--foil-page);
        padding: 0 4px;
      }
      .how button {
        min-height: 24px;
        padding: 0 8px;
      }
      :host-context([data-density='roomy']) .how button {
        min-height: 48px;
      }
      .reason {
        white-space: normal;
        color: var(--foil-muted);
        min-width: 12em;
      }
      @media (max-width: 1000px) {
        th,
        td {
          padding: 0 8px 0 4px;
        }
        .deviation,
        .reason {
          display: none;
        }
        .name {
          white-space: normal;
        }
      }
      :host([stale]) table {
        opacity: 0.5;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) selection: Selection = {};
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private filter: Filter = 'all';
  @state() private at = { row: 0, column: 0 };
  @state() private copied = false;

  private get rows(): Characteristic[] {
    return filteredRows(this.results.characteristics ?? [], this.filter);
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('selection') && this.selection.characteristicId) {
      this.renderRoot.querySelector('tr[aria-selected="true"]')?.scrollIntoView({ block: 'nearest' });
    }
  }

  private choose(row: Characteristic): void {
    emit(this, 'foil-select', selectCharacteristic(this.results, this.selection, row));
  }

  private how(row: Characteristic): void {
    emit(this, 'foil-how', { characteristicId: row.id });
  }

  private async copy(rows: Characteristic[]): Promise<void> {
    const text = copyText(rows, this.results);
    await navigator.clipboard.writeText(text);
    this.copied = true;
    emit(this, 'foil-copy', { text });
  }

  private key(event: KeyboardEvent): void {
    const { rows } = this;
    const row = rows[this.at.row];
    if (this.at.column === HOW && (event.key === 'Enter' || event.key === ' ')) return;
    if (event.key === 'Enter' && row) this.choose(row);
    else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'c' && row) void this.copy([row]);
    else {
      const to = this.shownCell(event, rows.length);
      if (!to || rows.length === 0) return;
      this.at = to;
      void this.updateComplete.then(() =>
        this.renderRoot.querySelector<HTMLElement>(`[data-cell="${to.row}-${to.column}"]`)?.focus(),
      );
    }
    event.preventDefault();
  }

  /** The cell a key leads to, hidden columns passed over; null for other keys. */
  private shownCell(event: KeyboardEvent, rows: number): { row: number; column: number } | null {
    let to = gridMove(event.key, event.ctrlKey, this.at, rows, HOW + 1);
    for (let k = 0; to && k < HOW; k++) {
      const cell = this.renderRoot.querySelector<HTMLElement>(`[data-cell="${to.row}-${to.column}"]`);
      if (cell?.checkVisibility() ?? true) break;
      to = gridMove(event.key, event.ctrlKey, to, rows, HOW + 1);
    }
    return to;
  }

  private setFilter(filter: Filter): void {
    this.filter = filter;
    this.at = { row: 0, column: 0 };
    this.copied = false;
    emit(this, 'foil-filter', { filter });
  }

  private row(row: Characteristic, index: number, reasons: boolean): TemplateResult {
    const { mark } = this.view;
    const chosen = row.id === this.selection.characteristicId;
    const here = row.section !== null && row.section === this.selection.sectionId;
    return html`<tr aria-selected=${chosen} class=${here ? 'here' : ''} @click=${() => this.choose(row)}>
      ${COLUMNS.map((column, k) => {
        const active = this.at.row === index && this.at.column === k;
        return html`<td
          class="${column.id} ${column.numeric ? 'numeric' : ''}"
          tabindex=${active ? 0 : -1}
          data-cell="${index}-${k}"
          @focus=${() => {
            this.at = { row: index, column: k };
          }}
        >
          ${
            column.id === 'verdict'
              ? html`<foil-verdict .verdict=${row.verdict}></foil-verdict>`
              : cellText(row, column.id, this.results, mark)
          }
        </td>`;
      })}
      ${reasons ? html`<td class="reason">${row.reason ?? ''}</td>` : nothing}
      <td class="how">
        <button
          tabindex=${this.at.row === index && this.at.column === HOW ? 0 : -1}
          data-cell="${index}-${HOW}"
          data-how=${row.id}
          aria-label="How? ${row.name}, ${cellText(row, 'place', this.results, mark)}"
          aria-haspopup="dialog"
          @focus=${() => {
            this.at = { row: index, column: HOW };
          }}
          @click=${(e: Event) => {
            e.stopPropagation();
            this.how(row);
          }}
        >
          How?
        </button>
      </td>
    </tr>`;
  }

  override render(): TemplateResult {
    const all = this.results.characteristics ?? [];
    const { rows } = this;
    const reasons = rows.some((r) => r.reason);
    return html`<div class="between">
        <h2 id="head">Characteristics</h2>
        <div class="row">
          <div class="group" role="group" aria-label="Rows shown">
            ${FILTERS.map(
              ([
                filter,
                word,
              ]) => html`<button aria-pressed=${this.filter === filter} @click=${() => this.setFilter(filter)}>
                ${word} ${filteredRows(all, filter).length}
              </button>`,
            )}
          </div>
          <button aria-haspopup="dialog" ?disabled=${all.length === 0} @click=${() => emit(this, 'foil-definitions', null)}>Definitions</button>
          <button ?disabled=${rows.length === 0} @click=${() => this.copy(rows)}>${this.copied ? 'Copied' : 'Copy'}</button>
        </div>
      </div>
      ${
        rows.length === 0
          ? html`<p class="small muted">${all.length === 0 ? 'The plan lists no characteristics.' : 'No rows of this kind.'}</p>`
          : html`<div class="scroll">
            <table role="grid" aria-labelledby="head" aria-rowcount=${rows.length + 1} @keydown=${this.key}>
              <thead>
                <tr>
                  ${COLUMNS.map((c) => html`<th scope="col" class="${c.id} ${c.numeric ? 'numeric' : ''}">${c.head}</th>`)}
                  ${reasons ? html`<th scope="col" class="reason">reason</th>` : nothing}
                  <th scope="col" class="how"><span class="out">how it was measured</span></th>
                </tr>
              </thead>
              <tbody>
                ${rows.map((row, i) => this.row(row, i, reasons))}
              </tbody>
            </table>
          </div>`
      }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-characteristic-table': FoilCharacteristicTable;
  }
}
