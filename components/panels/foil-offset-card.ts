import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Offset } from '../../src/model/stock-results.ts';
import { CARD_DECIMALS, offsetCard, offsetJson } from '../../src/report/offset-card.ts';
import { formatNumber } from '../controls/format.ts';
import { saveFile } from '../controls/save-file.ts';
import { orderWords } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';

const AXES = ['X', 'Y', 'Z'];
const MOVES_WORDS: Record<Offset['moves'], string> = { part: 'the part', programme: 'the programme' };

/**
 * @summary The placement as values for the control: what they move, order, pivot, and a point that proves them.
 * @fires foil-copy - text put on the clipboard
 * @fires foil-print - the card is to be printed by itself
 */
@customElement('foil-offset-card')
export class FoilOffsetCard extends LitElement {
  static override styles = [
    base,
    css`
      dialog {
        width: min(640px, 96vw);
        max-height: 94vh;
        padding: 16px 22px;
        border: 1px solid var(--foil-ink);
        border-radius: 4px;
        background: var(--foil-page);
        color: var(--foil-ink);
      }
      dialog::backdrop {
        background: rgb(10 12 14 / 45%);
      }
      h2 {
        font-size: 1.05rem;
        margin: 0;
      }
      h3 {
        margin: 14px 0 4px;
      }
      .values {
        display: grid;
        grid-template-columns: repeat(3, minmax(0, 1fr));
        gap: 8px 18px;
        margin: 12px 0;
      }
      .values div {
        border-bottom: 1px solid var(--foil-edge);
      }
      .values dt {
        font-size: var(--foil-small);
        color: var(--foil-muted);
      }
      dd {
        margin: 0;
        font-variant-numeric: tabular-nums slashed-zero;
      }
      .values dd {
        font-size: 1.35rem;
        font-weight: 600;
      }
      .values dd span {
        font-size: var(--foil-small);
        font-weight: 400;
      }
      dl {
        margin: 0;
      }
      .facts {
        display: grid;
        grid-template-columns: max-content minmax(0, 1fr);
        gap: 3px 16px;
        font-size: var(--foil-small);
      }
      .facts dt {
        color: var(--foil-muted);
      }
      fieldset {
        border: 0;
        padding: 0;
        margin: 8px 0 0;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 4px 16px;
        font-size: var(--foil-small);
      }
      legend {
        float: left;
        padding: 0;
        margin-right: 16px;
      }
      .caution {
        border-left: 3px solid var(--foil-ink);
        padding-left: 8px;
        margin: 12px 0;
        font-size: var(--foil-small);
      }
      @media (max-width: 480px) {
        .values {
          grid-template-columns: minmax(0, 1fr);
        }
      }
      @media print {
        dialog {
          --foil-ink: #000;
          --foil-muted: #333;
          --foil-edge: #666;
          --foil-line: #999;
          position: static;
          width: auto;
          max-height: none;
          border: 1.5px solid #000;
          color: #000;
          background: #fff;
          margin: 0;
        }
        .on-screen {
          display: none;
        }
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) offsets: readonly Offset[] = [];
  /** Part and serial, for the head of the card. */
  @property() named = '';
  /** File name stem. */
  @property() file = 'blank';
  /** How the placement was found, in words. */
  @property() method = '';
  @state() private moves: Offset['moves'] = 'programme';
  /** The order the user chose; empty: that of the results. */
  @state() private order = '';
  @state() private said = '';
  @query('dialog') private dialog!: HTMLDialogElement;

  /** Opens the card; the focus returns to where it was when it closes. */
  show(): void {
    this.said = '';
    if (!this.dialog.open) this.dialog.showModal();
  }

  private get offset(): Offset | null {
    const { offsets } = this;
    const moved = offsets.filter((o) => o.moves === this.moves);
    return moved.find((o) => o.order === this.order) ?? moved[0] ?? offsets[0] ?? null;
  }

  private async copy(offset: Offset): Promise<void> {
    const text = offsetCard(offset);
    try {
      await navigator.clipboard.writeText(text);
      this.said = 'Copied.';
      emit(this, 'foil-copy', { text });
    } catch (error) {
      this.said = `Not copied: ${(error as Error).message}`;
    }
  }

  private save(offset: Offset): void {
    saveFile(
      `${this.file}-offset.json`,
      new Blob([`${JSON.stringify(offsetJson(offset), null, 2)}\n`], { type: 'application/json' }),
    );
    this.said = 'Saved.';
  }

  private choices(): TemplateResult {
    const { offset } = this;
    const radio = (group: string, value: string, word: string, now: string, set: () => void): TemplateResult =>
      html`<label class="choice"
        ><input type="radio" name=${group} value=${value} .checked=${now === value} @change=${set} />${word}</label
      >`;
    const orders = [...new Set(this.offsets.filter((o) => o.moves === offset?.moves).map((o) => o.order))];
    return html`<fieldset class="on-screen">
        <legend>These values move</legend>
        ${(['programme', 'part'] as const)
          .filter((moves) => this.offsets.some((o) => o.moves === moves))
          .map((moves) =>
            radio('moves', moves, MOVES_WORDS[moves], offset?.moves ?? '', () => {
              this.moves = moves;
            }),
          )}
      </fieldset>
      <fieldset class="on-screen">
        <legend>Order of rotations</legend>
        ${orders.map((order) =>
          radio('order', order, orderWords(order), offset?.order ?? '', () => {
            this.order = order;
          }),
        )}
      </fieldset>`;
  }

  private values(offset: Offset): TemplateResult {
    const number = (value: number): string => formatNumber(value, CARD_DECIMALS, this.view.mark, true);
    return html`<dl class="values">
      ${AXES.map((axis, k) => html`<div><dt>${axis}</dt><dd>${number(offset.translation[k])} <span>mm</span></dd></div>`)}
      ${AXES.map((axis, k) => html`<div><dt>about ${axis}</dt><dd>${number(offset.rotationDeg[k])} <span>°</span></dd></div>`)}
    </dl>`;
  }

  private facts(offset: Offset): TemplateResult {
    const point = (p: readonly number[]): string =>
      AXES.map((axis, k) => `${axis} ${formatNumber(p[k], CARD_DECIMALS, this.view.mark)}`).join('   ');
    return html`<dl class="facts">
        <dt>these values move</dt>
        <dd>${MOVES_WORDS[offset.moves]}</dd>
        <dt>order of rotations</dt>
        <dd>${orderWords(offset.order)}, about fixed axes (${offset.order})</dd>
        <dt>rotated about</dt>
        <dd>${point(offset.pivot)} mm</dd>
        <dt>placement</dt>
        <dd>${this.method}</dd>
      </dl>
      <h3>Check point: after setting, touch here and expect</h3>
      <dl class="facts">
        <dt>before</dt>
        <dd>${point(offset.checkPoint.before)} mm</dd>
        <dt>after</dt>
        <dd><strong>${point(offset.checkPoint.after)} mm</strong></dd>
      </dl>`;
  }

  override render(): TemplateResult {
    const { offset } = this;
    return html`<dialog aria-labelledby="head">
      <div class="between">
        <h2 id="head">Work offset${this.named ? html`: ${this.named}` : nothing}</h2>
        <button class="on-screen" @click=${() => this.dialog.close()}>Close</button>
      </div>
      ${
        offset === null
          ? html`<p class="small muted">No values: the blank is not placed.</p>`
          : html`${this.choices()} ${this.values(offset)} ${this.facts(offset)}
            <p class="caution">
              Controls differ in what an offset moves and in the sense of rotations: prove the values with the check
              point and a dry run before cutting.
            </p>
            <div class="row on-screen">
              <button class="strong" @click=${() => this.copy(offset)}>Copy</button>
              <button @click=${() => emit(this, 'foil-print', null)}>Print card</button>
              <button @click=${() => this.save(offset)}>Save (JSON)</button>
              <span class="small" role="status">${this.said}</span>
            </div>`
      }
    </dialog>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-offset-card': FoilOffsetCard;
  }
}
