import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { PlanDefinition } from '../../src/model/plan.ts';
import type { Results } from '../../src/model/results.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import type { Selection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { type DefinitionLine, definitionLines } from './definition-lines.ts';

/**
 * @summary What every quantity of the table is measured by, as a dialog; each line leads to its choice.
 * @fires foil-how - another definition is to be chosen for a quantity
 * @fires foil-save-plan - the plan with the chosen definitions as a file
 */
@customElement('foil-definition-list')
export class FoilDefinitionList extends LitElement {
  static override styles = [
    base,
    css`
      dialog {
        width: min(820px, 94vw);
        max-height: 90vh;
        border: 1px solid var(--foil-ink);
        border-radius: 4px;
        background: var(--foil-page);
        color: var(--foil-ink);
        padding: 14px 20px;
      }
      dialog::backdrop {
        background: rgb(10 12 14 / 45%);
      }
      h2 {
        font-size: 1.05rem;
        margin: 0;
      }
      table {
        border-collapse: collapse;
        width: 100%;
        margin: 10px 0 14px;
        font-size: var(--foil-small);
      }
      th,
      td {
        text-align: left;
        font-weight: 400;
        padding: 2px 14px 2px 0;
        min-height: var(--foil-row);
        border-bottom: 1px solid var(--foil-line);
      }
      thead th {
        color: var(--foil-muted);
      }
      td button {
        min-height: 28px;
        padding: 0 9px;
      }
      :host-context([data-density='roomy']) td button {
        min-height: 48px;
      }
      td:last-child {
        text-align: right;
        padding-right: 0;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) definitions: DefinitionsByPath | null = null;
  @property({ attribute: false }) chosen: readonly PlanDefinition[] = [];
  @property({ attribute: false }) selection: Selection = {};
  @state() private open = false;
  @query('dialog') private dialog!: HTMLDialogElement;

  async show(): Promise<void> {
    this.open = true;
    await this.updateComplete;
    if (!this.dialog.open) this.dialog.showModal();
  }

  private line(line: DefinitionLine): TemplateResult {
    return html`<tr>
      <th scope="row">${line.name}</th>
      <td>${line.definition}${line.parameters ? `, ${line.parameters}` : ''}</td>
      <td>${line.isChosen ? 'chosen here' : ''}</td>
      <td>
        <button
          aria-haspopup="dialog"
          aria-label="${line.canChange ? 'Change' : 'How?'} ${line.name}"
          @click=${() => emit(this, 'foil-how', { characteristicId: line.rowId })}
        >
          ${line.canChange ? 'Change' : 'How?'}
        </button>
      </td>
    </tr>`;
  }

  private content(): TemplateResult {
    const { results, definitions, chosen, selection, view } = this;
    return html`<div class="between">
        <h2 id="head">Definitions in use</h2>
        <button @click=${() => this.dialog.close()}>Close</button>
      </div>
      <table aria-labelledby="head">
        <thead>
          <tr>
            <th scope="col">quantity</th>
            <th scope="col">measured by</th>
            <td></td>
            <td></td>
          </tr>
        </thead>
        <tbody>
          ${definitionLines(results, definitions, chosen, selection.sectionId ?? null, view.mark).map((line) => this.line(line))}
        </tbody>
      </table>
      <button @click=${() => emit(this, 'foil-save-plan', null)}>Save as plan</button>`;
  }

  override render(): TemplateResult {
    return html`<dialog
      aria-labelledby="head"
      @close=${() => {
        this.open = this.dialog.open;
      }}
    >${this.open ? this.content() : nothing}</dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-definition-list': FoilDefinitionList;
  }
}
