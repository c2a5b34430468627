import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Answer } from '../../src/model/results.ts';
import { base } from '../styles/base.ts';
import './foil-verdict.ts';

/**
 * @summary The sentence a page opens with: number, unit, place and verdict.
 * @slot actions buttons after the sentence
 */
@customElement('foil-answer')
export class FoilAnswer extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        padding: 14px 0 12px;
        border-bottom: 1px solid var(--foil-line);
      }
      .line {
        display: flex;
        align-items: baseline;
        gap: 12px;
      }
      foil-verdict {
        flex: none;
        align-self: baseline;
        font-size: var(--foil-small);
        font-weight: 650;
      }
      h1 {
        margin: 0;
        font-size: clamp(17px, 1.25rem, 24px);
        font-weight: 560;
        line-height: 1.35;
        letter-spacing: -0.006em;
        text-wrap: pretty;
        max-width: 92ch;
      }
      :host([stale]) h1 {
        color: var(--foil-muted);
      }
      .stale {
        margin-top: 6px;
        font-size: var(--foil-small);
        border-left: 3px solid var(--foil-ink);
        padding-left: 8px;
      }
    `,
  ];

  /** The question in the user's words; read out before the answer. */
  @property() question = '';
  @property({ attribute: false }) answer: Answer | null = null;
  /** Sentence shown while there is no answer yet. */
  @property() waiting = '';
  /** The change that made the answer old; empty while it is current. */
  @property() staleReason = '';
  /** What makes it current again, in words. */
  @property() again = 'measure again';

  override updated(): void {
    this.toggleAttribute('stale', this.staleReason !== '');
  }

  override render(): TemplateResult {
    const text = this.answer?.text ?? this.waiting;
    return html`<div class="line">
        ${this.answer ? html`<foil-verdict .verdict=${this.answer.verdict}></foil-verdict>` : nothing}
        <h1><span class="out">${this.question} </span>${text}</h1>
        <slot name="actions"></slot>
      </div>
      ${this.staleReason ? html`<p class="stale"><strong>Out of date.</strong> ${this.staleReason}; ${this.again}.</p>` : nothing}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-answer': FoilAnswer;
  }
}
