import { css, html, LitElement, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Verdict } from '../../src/model/results.ts';
import { base } from '../styles/base.ts';
import { verdictShape } from './verdict-shape.ts';
import { VERDICT_WORDS } from './words.ts';

/**
 * @summary A verdict as shape and word; colour only tints it.
 * @cssprop --foil-pass, --foil-fail, --foil-unproven, --foil-unmeasured tints
 */
@customElement('foil-verdict')
export class FoilVerdict extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        display: inline-flex;
        align-items: center;
        gap: 6px;
        white-space: nowrap;
      }
      svg {
        flex: none;
        overflow: visible;
      }
    `,
  ];

  @property() verdict: Verdict = 'no-limit';
  /** Hides the word where it stands beside the shape already. */
  @property({ type: Boolean }) bare = false;

  override render(): TemplateResult {
    const word = VERDICT_WORDS[this.verdict];
    return html`<svg width="15" height="15" viewBox="-7.5 -7.5 15 15" role="img" aria-label=${word}>
        ${verdictShape(this.verdict)}
      </svg>${this.bare ? null : html`<span aria-hidden="true">${word}</span>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-verdict': FoilVerdict;
  }
}
