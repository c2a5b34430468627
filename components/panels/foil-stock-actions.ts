import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { formatNumber, formatSeconds } from '../controls/format.ts';
import { AREA_WORDS, SIDE_WORDS } from '../controls/words.ts';
import { emit } from '../events.ts';
import { type AppState, obstacle } from '../state/app-state.ts';
import { MOST_KEPT, onTrial } from '../state/review-state.ts';
import { selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-message.ts';
import '../controls/foil-progress.ts';

/** At most this many areas have a button of their own; all of them stand in the table. */
const SHOWN_AREAS = 6;

/**
 * @summary What can be done next to the answer of the Stock page; progress and failure of what is being done.
 * @fires foil-review - review, example, better placement, keep
 * @fires foil-select - an area short of stock
 * @fires foil-offset - the work offset is asked for
 * @fires foil-cancel - the running step is to stop
 */
@customElement('foil-stock-actions')
export class FoilStockActions extends LitElement {
  static override styles = [
    base,
    css`
      .actions {
        padding: 10px 0;
      }
      .label {
        font-size: var(--foil-small);
      }
      foil-progress {
        flex: 1 1 320px;
      }
      foil-message {
        margin: 8px 0;
      }
    `,
  ];

  @property({ attribute: false }) state!: AppState;
  /** Results as shown: of the last computation, or of a trial. */
  @property({ attribute: false }) results: Results | null = null;

  private reviewButton(word: string, strong: boolean): TemplateResult {
    const why = obstacle(this.state);
    return html`<button
      class=${strong ? 'strong' : ''}
      ?disabled=${why !== null}
      aria-describedby=${why === null ? nothing : 'why'}
      @click=${() => emit(this, 'foil-review', { act: 'review' })}
    >
      ${word}
    </button>`;
  }

  private empty(): TemplateResult {
    return html`<div class="row actions">
      ${this.reviewButton('Review the blank', true)}
      <button @click=${() => emit(this, 'foil-review', { act: 'example' })}>Open the example blank</button>
      <span id="why" class="small muted">${obstacle(this.state) ?? ''}</span>
    </div>`;
  }

  private better(): TemplateResult | typeof nothing {
    const { review } = this.state;
    const better = review.reply?.results.stock?.better ?? null;
    if (better === null || onTrial(review)) return nothing;
    const spare = better.spare.value;
    const gain = spare === null ? '' : `, ${formatNumber(spare, 2, '.', true)} mm to spare`;
    return html`<button
      class="strong"
      ?disabled=${review.stale !== null}
      aria-label="Use the better placement${gain}"
      @click=${() => emit(this, 'foil-review', { act: 'better' })}
    >
      Use the better placement
    </button>`;
  }

  private areas(results: Results): TemplateResult | typeof nothing {
    const areas = results.stock?.areas ?? [];
    if (areas.length === 0) return nothing;
    return html`<span class="label">Show area</span>
      <div class="group" role="group" aria-label="Show an area short of stock">
        ${areas.slice(0, SHOWN_AREAS).map(
          ({ kind, place }, i) => html`<button
            aria-label="Show area ${i + 1}: ${AREA_WORDS[kind]}, ${SIDE_WORDS[place.side]}"
            @click=${() => emit(this, 'foil-select', selectPlace(results, place.height, place.along))}
          >
            ${i + 1}
          </button>`,
        )}
      </div>`;
  }

  private done(results: Results): TemplateResult {
    const { review } = this.state;
    const held = onTrial(review) || review.stale !== null;
    const full = review.kept.length >= MOST_KEPT;
    const { job } = review;
    const why = onTrial(review)
      ? 'Trial: confirm it before keeping it or writing offsets.'
      : full
        ? `${MOST_KEPT} results are kept; remove one to keep another.`
        : job.state === 'done' && review.stale === null
          ? `Done in ${formatSeconds(job.seconds)}.`
          : '';
    return html`<div class="row actions">
      ${this.better()} ${this.areas(results)}
      <button ?disabled=${held || full} aria-describedby="why" @click=${() => emit(this, 'foil-review', { act: 'keep' })}>
        Keep
      </button>
      <button ?disabled=${held} aria-describedby="why" @click=${() => emit(this, 'foil-offset', null)}>Work offset</button>
      ${this.reviewButton('Review again', review.stale !== null)}
      <span id="why" class="small muted">${why}</span>
    </div>`;
  }

  private failure(): TemplateResult | typeof nothing {
    const { job } = this.state.review;
    if (job.state !== 'failed') return nothing;
    const { failure } = job;
    return html`<foil-message
      kind="error"
      .what=${failure.message}
      .where=${failure.where ?? ''}
      .remedy=${failure.remedy}
      .details=${failure.code}
    ></foil-message>`;
  }

  override render(): TemplateResult {
    const { review } = this.state;
    const { results } = this;
    const { job } = review;
    if (job.state === 'working') {
      const { progress, steps, startedMs } = job;
      return html`<div class="row actions">
        <foil-progress
          cancellable
          .step=${progress?.step ?? job.what}
          .stepNumber=${steps.length}
          .done=${progress?.done ?? 0}
          .total=${progress?.total ?? 0}
          .seconds=${(performance.now() - startedMs) / 1000}
        ></foil-progress>
      </div>`;
    }
    return html`${this.failure()} ${results ? this.done(results) : this.empty()}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-stock-actions': FoilStockActions;
  }
}
