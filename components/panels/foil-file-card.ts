import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Box } from '../../src/model/shape.ts';
import type { PlanSummary, ShapeSummary } from '../../src/worker/messages.ts';
import { type DecimalMark, formatBytes, formatCount, formatNumber } from '../controls/format.ts';
import { emit } from '../events.ts';
import { type FileEntry, needsUnit } from '../state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-message.ts';
import '../controls/foil-progress.ts';

/** Edge lengths of a box as text, times a factor (1, or 25.4 when inch is meant). */
export function sizeText(box: Box, mark: DecimalMark, factor = 1): string {
  const decimals = factor * (box.max[2] - box.min[2]) > 1000 ? 0 : 1;
  return [0, 1, 2].map((k) => formatNumber(factor * (box.max[k] - box.min[k]), decimals, mark)).join(' × ');
}

/**
 * @summary One file: name, size, what was found in it, how far the reading is.
 * @fires foil-cancel - stop reading
 * @fires foil-remove - take the file out
 */
@customElement('foil-file-card')
export class FoilFileCard extends LitElement {
  static override styles = [
    base,
    css`
      :host {
        border: 1px solid var(--foil-line);
        border-radius: 4px;
        padding: 10px 12px;
      }
      .name {
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      dl {
        display: grid;
        grid-template-columns: max-content minmax(0, 1fr);
        gap: 2px 12px;
        margin: 6px 0 0;
        font-size: var(--foil-small);
      }
      dt {
        color: var(--foil-muted);
      }
      dd {
        margin: 0;
        overflow-wrap: anywhere;
      }
      foil-message,
      foil-progress {
        margin-top: 8px;
      }
      summary {
        cursor: pointer;
        font-size: var(--foil-small);
        margin-top: 6px;
        min-height: 24px;
      }
      code {
        font-size: 12px;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) file!: FileEntry;

  private shapeRows(shape: ShapeSummary): TemplateResult {
    const { mark } = this.view;
    const what =
      shape.kind === 'sections'
        ? `${shape.sections} sections, ${formatCount(shape.points, mark)} points`
        : shape.kind === 'mesh'
          ? `${formatCount(shape.triangles, mark)} triangles`
          : `${formatCount(shape.points, mark)} points`;
    const unit = this.file.unit ?? shape.unit;
    return html`<dt>Holds</dt>
      <dd>${what}</dd>
      <dt>Size</dt>
      <dd>
        ${
          needsUnit(this.file)
            ? html`${sizeText(shape.box, mark)}, unit not stated`
            : html`${sizeText(shape.box, mark, this.factor(shape))} mm (${shape.unitStated ? 'file says' : 'you chose'} ${unit})`
        }
      </dd>`;
  }

  /** Box of a file read without a unit is in its own numbers; a chosen inch makes them larger. */
  private factor(shape: ShapeSummary): number {
    return !shape.unitStated && this.file.unit === 'inch' && shape.unit === 'mm' ? 25.4 : 1;
  }

  private planRows(plan: PlanSummary): TemplateResult {
    const { mark } = this.view;
    const part = [plan.part, plan.serial ? `serial ${plan.serial}` : null, plan.issue ? `issue ${plan.issue}` : null];
    return html`<dt>Part</dt>
      <dd>${part.filter((x) => x !== null).join(', ') || 'not named'}</dd>
      <dt>Holds</dt>
      <dd>${plan.characteristics} characteristics, ${plan.zones} zones${plan.heights ? html`, ${plan.heights.length} sections` : nothing}</dd>
      <dt>Decision rule</dt>
      <dd>
        ${plan.rule === 'guarded' ? `allow for uncertainty${plan.factor === null ? '' : `, ${formatNumber(plan.factor, 2, mark)} u`}` : 'value against limit'}
      </dd>`;
  }

  override render(): TemplateResult {
    const { file } = this;
    const found = file.shape ?? file.plan;
    return html`<div class="between">
        <span><span class="name">${file.name}</span> <span class="small muted number">${formatBytes(file.size, this.view.mark)}</span></span>
        <button class="quiet" aria-label="Remove ${file.name}" @click=${() => emit(this, 'foil-remove', { key: file.key }, true)}>Remove</button>
      </div>
      ${
        file.status === 'reading' || file.status === 'waiting'
          ? html`<foil-progress
            cancellable
            .key=${file.key}
            .step=${file.progress?.step ?? (file.status === 'waiting' ? 'Waiting' : 'Reading')}
            .done=${file.progress?.done ?? 0}
            .total=${file.progress?.total ?? 0}
          ></foil-progress>`
          : nothing
      }
      ${
        file.failure
          ? html`<foil-message
            kind="error"
            .what=${file.failure.message}
            .where=${file.failure.where ?? file.name}
            .remedy=${file.failure.remedy}
            .details=${file.failure.code}
          ></foil-message>`
          : nothing
      }
      ${file.shape ? html`<dl>${this.shapeRows(file.shape)}</dl>` : nothing}
      ${file.plan ? html`<dl>${this.planRows(file.plan)}</dl>` : nothing}
      ${file.shape?.warnings.map(
        (w) =>
          html`<foil-message kind="warning" .what=${w.message} .where=${w.where ?? ''} .remedy=${w.remedy ?? ''}></foil-message>`,
      )}
      ${
        found
          ? html`<details>
            <summary>File details</summary>
            <dl>
              ${file.shape ? html`<dt>Format</dt><dd>${file.shape.format}</dd>` : nothing}
              <dt>SHA-256</dt>
              <dd><code>${found.sha256}</code></dd>
            </dl>
          </details>`
          : nothing
      }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-file-card': FoilFileCard;
  }
}
