import { consume } from '@lit/context';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { DecisionRule } from '../../src/judge/decide.ts';
import type { DefinitionInfo, DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { PlanDefinition } from '../../src/model/plan.ts';
import type { Characteristic, Results } from '../../src/model/results.ts';
import { formatU, withUnit } from '../../src/report/format-number.ts';
import { showResult } from '../controls/format.ts';
import { emit, type FoilEvent } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { type Choice, choiceOfRow, sameChoice, type Trial } from '../state/definition-choice.ts';
import { base } from '../styles/base.ts';
import { parametersText } from './how-facts.ts';
import { rangeSpec } from './range-spec.ts';
import { rowDialogStyles } from './row-dialog-styles.ts';
import { cellText, requirementText } from './table-rows.ts';
import '../controls/foil-message.ts';
import '../controls/foil-verdict.ts';
import '../plots/foil-edge-closeup.ts';
import './foil-definition-choice.ts';
import './foil-how.ts';

/**
 * @summary One characteristic in full: how its number came about, and by which other definitions it may be measured.
 * @fires foil-attempt - the quantity by another definition or parameter
 * @fires foil-forget - the dialog is closed: nothing is tried any more
 * @fires foil-use - another definition from now on
 * @fires foil-save-plan - the plan with the chosen definitions as a file
 */
@customElement('foil-row-dialog')
export class FoilRowDialog extends LitElement {
  static override styles = [base, rowDialogStyles];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) definitions: DefinitionsByPath | null = null;
  @property({ attribute: false }) rule!: DecisionRule;
  @property({ attribute: false }) trial: Trial | null = null;
  /** What the quantities were measured by before the last change. */
  @property({ attribute: false }) earlier: readonly PlanDefinition[] = [];
  @property({ type: Boolean }) stale = false;
  @state() private rowId: string | null = null;
  @state() private proofWidth = 480;
  @query('dialog') private dialog!: HTMLDialogElement;
  @query('.proof') private proof!: HTMLElement | null;
  private observer = new ResizeObserver(() => {
    this.proofWidth = Math.max(260, Math.floor(this.proof?.clientWidth ?? 480));
  });

  override disconnectedCallback(): void {
    this.observer.disconnect();
    super.disconnectedCallback();
  }

  /** Opens on one row; the focus returns to where it was when the dialog closes. */
  async show(rowId: string): Promise<void> {
    this.rowId = rowId;
    await this.updateComplete;
    if (!this.dialog.open) this.dialog.showModal();
    if (this.proof) this.observer.observe(this.proof);
    const { row } = this;
    if (row && this.infos.length > 0) this.attempt(choiceOfRow(row, this.definitions));
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('results') && this.rowId !== null && this.row === null) this.dialog.close();
  }

  private get row(): Characteristic | null {
    return this.results.characteristics?.find((c) => c.id === this.rowId) ?? null;
  }

  private get infos(): readonly DefinitionInfo[] {
    const { row } = this;
    return row?.section ? (this.definitions?.[row.of] ?? []) : [];
  }

  /** What is tried: the trial while it is of this row, else what the row is measured by. */
  private chosen(row: Characteristic): Choice {
    const ask = this.trial?.ask;
    if (ask && ask.of === row.of && ask.section === row.section && ask.at === row.at)
      return { definition: ask.definition, parameters: ask.parameters ?? {} };
    return choiceOfRow(row, this.definitions);
  }

  private attempt(choice: Choice): void {
    const { row } = this;
    if (!row?.section || this.stale) return;
    const at = row.at === undefined ? {} : { at: row.at };
    emit(this, 'foil-attempt', { slot: 'row', ask: { section: row.section, of: row.of, ...at, ...choice } });
  }

  private use(row: Characteristic, now: Choice): void {
    emit(this, 'foil-use', {
      now: { of: row.of, ...now },
      before: { of: row.of, ...choiceOfRow(row, this.definitions) },
    });
  }

  private closed(): void {
    // The event comes late: by then the dialog may be open on another row.
    if (this.dialog.open) return;
    this.observer.disconnect();
    this.rowId = null;
    emit(this, 'foil-forget', { slot: 'row' });
  }

  private line(word: string, row: Characteristic): TemplateResult {
    const { mark } = this.view;
    const { unit, lower, upper } = row.requirement;
    const style = { unit, u: row.u, limits: [lower, upper] };
    return html`<tr>
      <th scope="row">${word}</th>
      <td class="value number">${row.value === null ? '–' : withUnit(showResult(row.value, style, mark), unit)}</td>
      <td class="number">${formatU(row.u).replace('.', mark)}</td>
      <td class="number">${requirementText(row, mark)}</td>
      <td><foil-verdict .verdict=${row.verdict}></foil-verdict></td>
    </tr>`;
  }

  private numbers(row: Characteristic, tried: Characteristic | null): TemplateResult {
    return html`<div class="wide" tabindex="0" role="region" aria-label="Result">
      <table class="numbers">
        <thead>
          <tr>
            <td></td>
            <th scope="col">result</th>
            <th scope="col">U (k = 2)</th>
            <th scope="col">requirement</th>
            <th scope="col">verdict</th>
          </tr>
        </thead>
        <tbody aria-live="polite">
          ${this.line('in use', row)} ${tried ? this.line('tried', tried) : nothing}
        </tbody>
      </table>
    </div>`;
  }

  private back(row: Characteristic, now: Choice): TemplateResult | typeof nothing {
    const before = this.earlier.find((one) => one.of === row.of);
    if (!before) return nothing;
    const choice = { definition: before.definition, parameters: before.parameters ?? {} };
    if (sameChoice(choice, now)) return nothing;
    const info = this.infos.find((one) => one.id === before.definition);
    const parameters = parametersText(choice.parameters, info?.parameters ?? [], this.view.mark);
    return html`<button @click=${() => this.attempt(choice)}>
      Earlier: ${before.definition}${parameters ? `, ${parameters}` : ''}
    </button>`;
  }

  private proofOf(row: Characteristic, shown: Characteristic, choice: Choice): TemplateResult {
    const info = this.infos.find((one) => one.id === choice.definition) ?? null;
    const edge = /^trailing/.test(row.of) ? 'trailing' : 'leading';
    const range = info ? rangeSpec(info) : null;
    const { trial } = this;
    return html`<div class="proof">
      ${
        trial?.reply?.edge
          ? html`<div>
            <h3>Fitted curve and its residuals over normal angle, mm</h3>
            <foil-edge-closeup
              .edge=${edge}
              .trial=${trial}
              .range=${range}
              .width=${this.proofWidth}
              @foil-fit-range=${(e: FoilEvent<'foil-fit-range'>) => {
                e.stopPropagation();
                this.attempt({ ...choice, parameters: { ...choice.parameters, [range!.name]: e.detail.halfAngleDeg } });
              }}
            ></foil-edge-closeup>
          </div>`
          : nothing
      }
      <div>
        <h3>How this number came about</h3>
        <foil-how .row=${shown} .info=${info} .rule=${this.rule}></foil-how>
      </div>
    </div>`;
  }

  private content(row: Characteristic): TemplateResult {
    const { trial, infos } = this;
    const choice = this.chosen(row);
    const own = choiceOfRow(row, this.definitions);
    const other = infos.length > 0 && !sameChoice(choice, own);
    const tried = other ? (trial?.reply?.row ?? null) : null;
    const place = cellText(row, 'place', this.results, this.view.mark);
    return html`<div class="head">
        <div class="between">
          <h2 id="head">${row.name}, ${row.section === null ? place : `section ${place}`}</h2>
          <button @click=${() => this.dialog.close()}>Close</button>
        </div>
        ${this.numbers(row, tried)}
      </div>
      <div class="body" ?data-single=${infos.length === 0}>
        ${
          infos.length === 0
            ? nothing
            : html`<foil-definition-choice
              .of=${row.of}
              .infos=${infos}
              .choice=${choice}
              .used=${row.definition}
              @foil-choice=${(e: FoilEvent<'foil-choice'>) => {
                e.stopPropagation();
                this.attempt(e.detail);
              }}
            ></foil-definition-choice>`
        }
        ${this.proofOf(row, tried ?? row, choice)}
      </div>
      <div class="foot">
        ${
          trial?.failure
            ? html`<foil-message kind="error" .what=${trial.failure.message} .where=${trial.failure.where ?? ''} .remedy=${trial.failure.remedy}></foil-message>`
            : nothing
        }
        <div class="row">
          ${
            infos.length === 0
              ? html`<p class="small muted">This quantity has one definition.</p>`
              : html`<button
                  class="strong"
                  ?disabled=${!other || this.stale || !trial?.answered || trial.failure !== null}
                  @click=${() => this.use(row, choice)}
                >
                  Use for this quantity
                </button>
                ${this.back(row, choice)}`
          }
          <button @click=${() => emit(this, 'foil-save-plan', null)}>Save as plan</button>
          ${this.stale ? html`<p class="small">Out of date: measure again first.</p>` : nothing}
        </div>
      </div>`;
  }

  override render(): TemplateResult {
    const { row } = this;
    return html`<dialog aria-labelledby="head" @close=${this.closed}>${row ? this.content(row) : nothing}</dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-row-dialog': FoilRowDialog;
  }
}
