import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Alignment } from '../../src/model/results.ts';
import { formatNumber } from '../controls/format.ts';
import { alignmentWords, MOTION_WORDS, MOTIONS, type Motion, playWords } from '../controls/words.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';

/**
 * @summary The placement of the measured part: six values, a lock for each, the residual and the plays.
 * @fires foil-lock - a motion locked or freed
 */
@customElement('foil-align')
export class FoilAlign extends LitElement {
  static override styles = [
    base,
    css`
      table {
        border-collapse: collapse;
        width: 100%;
        font-size: var(--foil-small);
      }
      th,
      td {
        text-align: left;
        font-weight: 400;
        height: var(--foil-row);
        padding: 0 8px 0 0;
        border-bottom: 1px solid var(--foil-line);
      }
      thead th {
        color: var(--foil-muted);
      }
      td.number,
      th.number {
        text-align: right;
      }
      .residual {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(5.5em, 1fr));
        gap: 4px 12px;
        margin: 8px 0;
        font-size: var(--foil-small);
      }
      .residual span {
        display: block;
        color: var(--foil-muted);
      }
      h3 {
        margin-top: 14px;
      }
      .weak {
        font-weight: 650;
      }
      summary {
        cursor: pointer;
        font-size: var(--foil-small);
        min-height: 24px;
        margin-top: 8px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) alignment: Alignment | null = null;
  /** Locks asked for the next run; they may differ from those the shown values stand on. */
  @property({ attribute: false }) locks: Motion[] = [];

  private readingOf(k: number): string {
    const a = this.alignment;
    if (!a) return '–';
    const { mark } = this.view;
    return k < 3
      ? `${formatNumber(a.translation[k], 4, mark, true)} mm`
      : `${formatNumber(a.rotationDeg[k - 3], 4, mark, true)}°`;
  }

  private playRows(a: Alignment): TemplateResult {
    const { mark } = this.view;
    return html`<h3>Plays: how far the fit could still move</h3>
      <table>
        <thead>
          <tr><th scope="col">motion</th><th scope="col" class="number">play, 1 σ, mm</th><th scope="col">held</th></tr>
        </thead>
        <tbody>
          ${a.plays.map(
            (p) => html`<tr class=${p.weak ? 'weak' : ''}>
              <td>${playWords(p.motion)}</td>
              <td class="number">${formatNumber(p.play, 5, mark)}</td>
              <td>${p.weak ? 'weakly' : 'well'}</td>
            </tr>`,
          )}
        </tbody>
      </table>`;
  }

  private otherRows(a: Alignment): TemplateResult {
    const { mark } = this.view;
    const degrees = (v: readonly number[]): string => v.map((x) => `${formatNumber(x, 4, mark, true)}°`).join('  ');
    const mm = (v: readonly number[]): string => v.map((x) => formatNumber(x, 4, mark, true)).join('  ');
    return html`<details>
      <summary>Other readings of the same placement</summary>
      <table>
        <tbody>
          <tr><th scope="row">pivot, mm</th><td class="number">${mm(a.pivot)}</td></tr>
          <tr><th scope="row">order ${a.rotationOrder}</th><td class="number">${degrees(a.rotationDeg)}</td></tr>
          <tr><th scope="row">order ${a.otherReading.rotationOrder}</th><td class="number">${degrees(a.otherReading.rotationDeg)}</td></tr>
          <tr><th scope="row">moves the programme, mm</th><td class="number">${mm(a.inverse.translation)}</td></tr>
          <tr><th scope="row">order ${a.inverse.rotationOrder}</th><td class="number">${degrees(a.inverse.rotationDeg)}</td></tr>
        </tbody>
      </table>
    </details>`;
  }

  override render(): TemplateResult {
    const a = this.alignment;
    const { mark } = this.view;
    return html`<h2>Alignment: ${alignmentWords(a)}</h2>
      <table>
        <thead>
          <tr><th scope="col">motion</th><th scope="col" class="number">value</th><th scope="col">lock</th></tr>
        </thead>
        <tbody>
          ${MOTIONS.map(
            (motion, k) => html`<tr>
              <th scope="row">${MOTION_WORDS[motion]}</th>
              <td class="number">${this.readingOf(k)}</td>
              <td>
                <label class="choice">
                  <input
                    type="checkbox"
                    aria-label="Lock ${MOTION_WORDS[motion]}"
                    .checked=${this.locks.includes(motion)}
                    @change=${(e: Event) => emit(this, 'foil-lock', { motion, locked: (e.target as HTMLInputElement).checked })}
                  />
                </label>
              </td>
            </tr>`,
          )}
        </tbody>
      </table>
      ${
        a
          ? html`<div class="residual number">
              <div><span>residual rms</span>${formatNumber(a.residual.rms, 4, mark)} mm</div>
              <div><span>mean</span>${formatNumber(a.residual.mean, 4, mark, true)} mm</div>
              <div><span>largest</span>${formatNumber(a.residual.max, 4, mark)} mm</div>
              <div><span>points</span>${a.residual.count}</div>
              <div><span>steps</span>${a.iterations}${a.converged ? '' : ', not settled'}</div>
            </div>
            ${this.playRows(a)} ${this.otherRows(a)}`
          : nothing
      }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-align': FoilAlign;
  }
}
