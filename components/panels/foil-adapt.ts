import { consume } from '@lit/context';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { AdaptMethod } from '../../src/adapt-blank.ts';
import type { Adapt, AdaptCheck } from '../../src/model/adapt-results.ts';
import { checkAmount, departsText, flankText, sectionReasons } from '../../src/report/adapt-text.ts';
import type { AdaptReply } from '../../src/worker/messages.ts';
import { saveFile } from '../controls/save-file.ts';
import { emit } from '../events.ts';
import { DEFAULT_VIEW, type View, viewContext } from '../state/context.ts';
import { ADAPTING, adaptObstacle, adaptStale } from '../state/review-adapt.ts';
import type { ReviewState } from '../state/review-state.ts';
import type { Selection } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { tableStyles } from '../styles/tables.ts';
import '../controls/foil-message.ts';
import '../controls/foil-progress.ts';
import '../controls/foil-verdict.ts';
import './foil-adapted-section.ts';

type FileName = AdaptReply['files'][number]['name'];

const FILES: Record<FileName, { label: string; type: string }> = {
  'adapted-sections.csv': { label: 'Sections (CSV)', type: 'text/csv' },
  'adapted.stl': { label: 'Surface (STL)', type: 'model/stl' },
  'adapted.step': { label: 'Surface (STEP)', type: 'model/step' },
  'adapted.igs': { label: 'Surface (IGES)', type: 'model/iges' },
};

/** What may be adapted, and the words on its button. */
const METHODS: readonly [AdaptMethod, string][] = [
  ['edges', 'Adapt the edges'],
  ['whole', 'Adapt the whole blade'],
];

/**
 * @summary The finished blade adapted to the blank: the answer, what stays as forged, checks, edges drawn, files.
 * @fires foil-review - the blade is to be adapted
 * @fires foil-cancel - the running step is to stop
 */
@customElement('foil-adapt')
export class FoilAdapt extends LitElement {
  static override styles = [
    base,
    tableStyles,
    css`
      .row h3 {
        margin: 0 6px 0 0;
      }
      .about {
        max-width: 92ch;
        margin-bottom: 8px;
      }
      .answer {
        display: flex;
        align-items: baseline;
        gap: 10px;
        margin: 12px 0 8px;
        max-width: 100ch;
      }
      .answer foil-verdict {
        flex: none;
        font-size: var(--foil-small);
        font-weight: 650;
      }
      :host([stale]) .answer,
      :host([stale]) .found {
        opacity: 0.55;
      }
      .old {
        margin-top: 8px;
        border-left: 3px solid var(--foil-ink);
        padding-left: 8px;
      }
      ul {
        margin: 0 0 10px;
        padding-left: 1.2em;
        max-width: 100ch;
      }
      #checks {
        margin-top: 16px;
      }
      .departs,
      .files {
        margin-top: 12px;
      }
      foil-message,
      foil-progress {
        margin-top: 8px;
      }
    `,
  ];

  @consume({ context: viewContext, subscribe: true }) @property({ attribute: false }) view: View = DEFAULT_VIEW;
  @property({ attribute: false }) review!: ReviewState;
  @property({ attribute: false }) selection: Selection = {};
  /** File name stem: part and serial. */
  @property() file = 'blank';
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private room = 900;
  @state() private saved = '';

  /** Its width is the panel's, its height never changes with what is drawn. */
  @query('h2') private heading!: HTMLElement;

  private observer = new ResizeObserver(([entry]) => {
    this.room = Math.floor(entry.contentRect.width);
  });

  override connectedCallback(): void {
    super.connectedCallback();
    void this.updateComplete.then(() => this.isConnected && this.observer.observe(this.heading));
  }

  override disconnectedCallback(): void {
    this.observer.disconnect();
    super.disconnectedCallback();
  }

  override willUpdate(): void {
    this.stale = adaptStale(this.review) !== null;
  }

  private marked(text: string): string {
    return text.replace(/(\d)\.(?=\d)/g, `$1${this.view.mark}`);
  }

  private save({ name, content }: AdaptReply['files'][number]): void {
    const file = `${this.file}-${name}`;
    saveFile(file, new Blob([content as string | Uint8Array<ArrayBuffer>], { type: FILES[name].type }));
    this.saved = `${file} saved.`;
  }

  private files({ files }: AdaptReply): TemplateResult | typeof nothing {
    if (files.length === 0) return nothing;
    return html`<div class="row files">
      <h3>Save adapted blade</h3>
      ${files.map(
        (file) =>
          html`<button ?disabled=${this.stale} aria-label="Save ${FILES[file.name].label}" @click=${() => this.save(file)}>
            ${FILES[file.name].label}
          </button>`,
      )}
      <span class="small muted" role="status">${this.saved}</span>
    </div>`;
  }

  private flanks({ flanks, sections }: Adapt): TemplateResult {
    return html`<ul class="small">
      ${flanks.map((flank) => html`<li><strong>The ${flankText(flank)}.</strong> ${this.marked(flank.reason)}</li>`)}
      ${sectionReasons(sections).map(({ reason, ids }) => html`<li><strong>${ids.length === 1 ? 'Section' : 'Sections'} ${ids.join(', ')}.</strong> ${this.marked(reason)}</li>`)}
    </ul>`;
  }

  private checks({ checks }: Adapt): TemplateResult | typeof nothing {
    if (checks.length === 0) return nothing;
    const row = (check: AdaptCheck): TemplateResult => html`<tr>
      <th scope="row">${check.name}</th>
      <td class="numeric">${this.marked(checkAmount(check, check.value))}</td>
      <td class="numeric">${this.marked(checkAmount(check, check.limit))}</td>
      <td><foil-verdict .verdict=${check.verdict}></foil-verdict></td>
      <td>${check.where ?? ''}</td>
    </tr>`;
    return html`<h3 id="checks">Checks</h3>
      <div class="scroll" tabindex="0" role="region" aria-labelledby="checks">
        <table>
          <thead>
            <tr>
              <th scope="col">check</th>
              <th scope="col" class="numeric">value</th>
              <th scope="col" class="numeric">limit</th>
              <th scope="col">verdict</th>
              <th scope="col">where</th>
            </tr>
          </thead>
          <tbody>
            ${checks.map(row)}
          </tbody>
        </table>
      </div>`;
  }

  private found(reply: AdaptReply): TemplateResult {
    const { adapt, answer } = reply;
    const departs = departsText(adapt);
    return html`<p class="answer">
        <foil-verdict .verdict=${answer.verdict}></foil-verdict><strong>${this.marked(answer.text)}</strong>
      </p>
      <div class="found">
        ${this.flanks(adapt)}
        <foil-adapted-section
          .results=${this.review.reply!.results}
          .reply=${reply}
          .selection=${this.selection}
          .width=${this.room}
          ?stale=${this.stale}
        ></foil-adapted-section>
        ${this.checks(adapt)} ${departs === null ? nothing : html`<p class="small departs">${this.marked(departs)}</p>`}
        ${this.files(reply)}
      </div>`;
  }

  private progress(): TemplateResult | typeof nothing {
    const { job } = this.review;
    if (job.state !== 'working' || job.what !== ADAPTING) return nothing;
    return html`<foil-progress
      cancellable
      .step=${job.progress?.step ?? job.what}
      .stepNumber=${job.steps.length}
      .done=${job.progress?.done ?? 0}
      .total=${job.progress?.total ?? 0}
      .seconds=${(performance.now() - job.startedMs) / 1000}
    ></foil-progress>`;
  }

  override render(): TemplateResult {
    const { adapted, adaptFailure } = this.review;
    const why = adaptObstacle(this.review);
    const old = adaptStale(this.review);
    return html`<h2 id="adapt">Adapted blade</h2>
      <p class="small about">
        Flanks that may stay as forged are kept; leading and trailing edge are built anew between them, so that chord, edge
        thickness and nose hold and nothing forged is cut into a step. Or the whole blade moves by the least smooth offset
        within its profile limits that leaves the stock wanted everywhere.
      </p>
      <div class="row">
        ${METHODS.map(
          ([method, label]) => html`<button
            ?disabled=${why !== null}
            aria-describedby=${why === null ? nothing : 'adapt-why'}
            @click=${() => emit(this, 'foil-review', { act: 'adapt', method })}
          >
            ${label}
          </button>`,
        )}
        <span id="adapt-why" class="small muted">${why ?? ''}</span>
      </div>
      ${this.progress()}
      ${adaptFailure === null ? nothing : html`<foil-message kind="error" .what=${adaptFailure.message} .where=${adaptFailure.where ?? ''} .remedy=${adaptFailure.remedy} .details=${adaptFailure.code}></foil-message>`}
      ${old === null ? nothing : html`<p class="small old"><strong>Out of date.</strong> ${old}; this is of the placement before.</p>`}
      ${adapted === null ? nothing : this.found(adapted)}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-adapt': FoilAdapt;
  }
}
