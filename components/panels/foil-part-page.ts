import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Answer } from '../../src/model/results.ts';
import { formatSeconds } from '../controls/format.ts';
import { emit, type FoilEvent } from '../events.ts';
import { type AppState, filesOf, obstacle, type Role } from '../state/app-state.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-answer.ts';
import '../controls/foil-message.ts';
import '../controls/foil-progress.ts';
import './foil-align.ts';
import './foil-file-card.ts';
import './foil-file-drop.ts';
import './foil-import-check.ts';
import './foil-truths.ts';

const SHAPE_ENDINGS = '.stl,.ply,.obj,.csv,.txt,.dat,.xyz,.asc,.tsv';
const SHAPES = 'mesh (STL, PLY, OBJ), points (PLY, XYZ) or a table of sections (CSV, text)';
const PLAN_WORDS = 'JSON with sections, limits and the decision rule; without it nothing has a limit';

/** Question of this page, in the user's words. */
const QUESTION = 'Right files, right units?';

/**
 * @summary Files in, checks, progress and the alignment; later the map of what is measured.
 * @fires foil-open, foil-measure, foil-example, foil-cancel, foil-remove, foil-unit, foil-settings, foil-lock
 */
@customElement('foil-part-page')
export class FoilPartPage extends LitElement {
  static override styles = [
    base,
    css`
      .files {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(280px, 100%), 1fr));
        gap: 20px;
        margin: 18px 0;
      }
      .column {
        display: grid;
        gap: 8px;
        align-content: start;
        min-width: 0;
      }
      .work {
        border-top: 1px solid var(--foil-line);
        padding-top: 16px;
      }
      .start {
        margin: 16px 0;
        min-height: var(--foil-target);
      }
      .start .strong {
        padding: 0 22px;
        font-weight: 600;
      }
      .work {
        display: grid;
        grid-template-columns: minmax(0, 1.7fr) minmax(280px, 1fr);
        gap: 28px;
      }
      @media (max-width: 900px) {
        .work {
          grid-template-columns: minmax(0, 1fr);
        }
      }
      .stack {
        display: grid;
        gap: 8px;
        margin-top: 12px;
      }
      foil-progress {
        flex: 1 1 320px;
      }
    `,
  ];

  @property({ attribute: false }) state!: AppState;

  private sentence(): { answer: Answer | null; waiting: string } {
    const { results, job } = this.state;
    if (results?.answers.part) return { answer: results.answers.part, waiting: '' };
    if (job.state === 'working') return { answer: null, waiting: 'Measuring.' };
    const reading = this.state.files.find((f) => f.status === 'reading' || f.status === 'waiting');
    if (reading) return { answer: null, waiting: `Reading ${reading.name}. Nothing you open leaves this computer.` };
    if (this.state.files.length === 0) {
      return {
        answer: null,
        waiting: 'Open a nominal blade and a measured one. Nothing you open leaves this computer.',
      };
    }
    return { answer: null, waiting: obstacle(this.state) ?? 'Ready to measure.' };
  }

  private column(
    role: Role,
    head: string,
    takes: string,
    formats: string,
    endings: string,
    multiple: boolean,
  ): TemplateResult {
    const files = filesOf(this.state, role);
    const free = multiple || files.length === 0;
    return html`<section class="column" aria-label=${head}>
      <h2>${head}</h2>
      ${files.map((file) => html`<foil-file-card .file=${file}></foil-file-card>`)}
      ${
        free && !(multiple && files.length > 0)
          ? html`<foil-file-drop
            .takes=${takes}
            .formats=${formats}
            .endings=${endings}
            ?multiple=${multiple}
            @foil-files=${(e: FoilEvent<'foil-files'>) => emit(this, 'foil-open', { files: e.detail.files, role })}
          ></foil-file-drop>`
          : nothing
      }
    </section>`;
  }

  private start(): TemplateResult {
    const { job, results, stale } = this.state;
    if (job.state === 'working') {
      const { progress, steps, startedMs } = job;
      return html`<div class="row start">
        <foil-progress
          cancellable
          .step=${progress?.step ?? ''}
          .stepNumber=${steps.length}
          .done=${progress?.done ?? 0}
          .total=${progress?.total ?? 0}
          .seconds=${(performance.now() - startedMs) / 1000}
        ></foil-progress>
      </div>`;
    }
    const why = obstacle(this.state);
    return html`<div class="row start">
      <button class="strong" ?disabled=${why !== null} aria-describedby="why" @click=${() => emit(this, 'foil-measure', null)}>
        ${results ? 'Measure again' : 'Measure'}
      </button>
      <button @click=${() => emit(this, 'foil-example', null)}>Open the example</button>
      <span id="why" class="small muted"
        >${why ?? (job.state === 'done' && !stale ? html`Done in ${formatSeconds(job.seconds)}.` : '')}</span
      >
    </div>`;
  }

  private failure(): TemplateResult | typeof nothing {
    const { job } = this.state;
    if (job.state !== 'failed') return nothing;
    const { failure } = job;
    const knowingly = failure.code.startsWith('place/') && !this.state.settings.acceptPose;
    return html`<foil-message
      kind="error"
      .what=${failure.message}
      .where=${failure.where ?? ''}
      .remedy=${failure.remedy}
      .details=${failure.code}
      .remedies=${knowingly ? ['Take this placement knowingly'] : []}
      @foil-remedy=${() =>
        emit(this, 'foil-settings', { change: { acceptPose: true }, what: 'An ambiguous placement is accepted' })}
    ></foil-message>`;
  }

  private place(): TemplateResult | typeof nothing {
    const { results } = this.state;
    if (!results) return nothing;
    const { truths } = this.state;
    return html`<foil-part-map .state=${this.state}></foil-part-map>
      <div class="stack">
        ${truths.length > 0 ? html`<foil-truths .results=${results} .truths=${truths}></foil-truths>` : nothing}
        ${results.warnings.map(
          (w) =>
            html`<foil-message kind="warning" .what=${w.message} .where=${w.where ?? ''} .remedy=${w.remedy ?? ''}></foil-message>`,
        )}
      </div>`;
  }

  override render(): TemplateResult {
    const { answer, waiting } = this.sentence();
    const { state } = this;
    return html`<foil-answer
        .question=${QUESTION}
        .answer=${answer}
        .waiting=${waiting}
        .staleReason=${state.stale ?? ''}
      ></foil-answer>
      ${this.failure()}
      <div class="files" data-area>
        ${this.column('nominal', 'Nominal (finished shape)', 'the nominal shape', SHAPES, SHAPE_ENDINGS, false)}
        ${this.column('measured', 'Measured (scan or probed points)', 'the measured part', SHAPES, SHAPE_ENDINGS, true)}
        ${this.column('plan', 'Plan (sections and limits)', 'the plan', PLAN_WORDS, '.json', false)}
      </div>
      ${
        state.files.length === 0
          ? this.start()
          : html`<div class="work">
            <div>
              <section class="check" data-area>
                <foil-import-check .files=${state.files} .settings=${state.settings}></foil-import-check>
              </section>
              ${this.start()} ${this.place()}
            </div>
            <foil-align data-area .alignment=${state.results?.alignment ?? null} .locks=${state.settings.locks}></foil-align>
          </div>`
      }`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-part-page': FoilPartPage;
  }
}
