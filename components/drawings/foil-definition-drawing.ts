import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { base } from '../styles/base.ts';
import { drawingOf } from './drawing-of.ts';
import { drawingStyles, SHEET } from './parts.ts';

/** @summary A small drawing of what a definition measures; its words stand beside it, so it is hidden from readers. */
@customElement('foil-definition-drawing')
export class FoilDefinitionDrawing extends LitElement {
  static override styles = [
    base,
    drawingStyles,
    css`
      svg {
        display: block;
        width: 100%;
        height: auto;
      }
    `,
  ];

  /** Id of the definition, such as R-LSQ. */
  @property() definition = '';
  /** Path of the quantity. */
  @property() of = '';

  override render(): TemplateResult | typeof nothing {
    const drawing = drawingOf(this.definition, this.of);
    if (drawing === null) return nothing;
    return html`<svg viewBox="0 0 ${SHEET.width} ${SHEET.height}" aria-hidden="true">${drawing.map((piece) => svg`${piece}`)}</svg>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-definition-drawing': FoilDefinitionDrawing;
  }
}
