import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
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

const SHAPE_ENDINGS = '.stl,.ply,.obj,.csv,.txt,.dat,.xyz,.asc,.tsv,.step,.stp,.igs,.iges';
const SHAPES = 'mesh (STL, PLY, OBJ), points (PLY, XYZ), sections (CSV, text) or a B-spline surface (STEP, IGES)';
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
      .ruled {
        border-top: 1px solid var(--foil-line);
        padding-top: 16px;
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: flex-start;
        gap: 4px 24px;
        margin: 10px 0 14px;
      }
      .head .start {
        margin: 0;
      }
      .folded {
        flex: 1 1 320px;
        min-width: 0;
        font-size: var(--foil-small);
      }
      .folded[open] {
        flex-basis: 100%;
      }
      .folded summary {
        cursor: pointer;
        min-height: var(--foil-target);
        line-height: var(--foil-target);
        white-space: nowrap;
        overflow: hidden;
        text-overflow: ellipsis;
      }
      .folded[open] {
        border-bottom: 1px solid var(--foil-line);
        padding-bottom: 16px;
      }
      .fold-head {
        font-weight: 600;
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
  /** True while the user has the files open beside a result. */
  @state() private unfolded = false;

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

  private files(): TemplateResult {
    return html`<div class="files" data-area>
      ${this.column('nominal', 'Nominal (finished shape)', 'the nominal shape', SHAPES, SHAPE_ENDINGS, false)}
      ${this.column('measured', 'Measured (scan or probed points)', 'the measured part', SHAPES, SHAPE_ENDINGS, true)}
      ${this.column('plan', 'Plan (sections and limits)', 'the plan', PLAN_WORDS, '.json', false)}
    </div>`;
  }

  private check(): TemplateResult {
    return html`<section class="check" data-area>
      <foil-import-check .files=${this.state.files} .settings=${this.state.settings}></foil-import-check>
    </section>`;
  }

  private align(): TemplateResult {
    const { results, settings } = this.state;
    return html`<foil-align data-area .alignment=${results?.alignment ?? null} .locks=${settings.locks}></foil-align>`;
  }

  /** Files and checks in one line once there is a result; open while something in them needs the user. */
  private folded(): TemplateResult {
    const needed = obstacle(this.state) !== null;
    const names = this.state.files.map((f) => f.name).join(', ');
    return html`<details
      class="folded"
      ?open=${needed || this.unfolded}
      @toggle=${(e: Event) => {
        if (!needed) this.unfolded = (e.target as HTMLDetailsElement).open;
      }}
    >
      <summary><span class="fold-head">Files and checks</span> <span class="muted">${names}</span></summary>
      ${this.files()} ${this.check()}
    </details>`;
  }

  private body(): TemplateResult {
    const { state } = this;
    if (state.results) {
      return html`<div class="head">${this.start()} ${this.folded()}</div>
        <div class="work">
          <div>${this.place()}</div>
          ${this.align()}
        </div>`;
    }
    if (state.files.length === 0) return html`${this.files()} ${this.start()}`;
    return html`${this.files()}
      <div class="work ruled">
        <div>${this.check()} ${this.start()}</div>
        ${this.align()}
      </div>`;
  }

  override render(): TemplateResult {
    const { answer, waiting } = this.sentence();
    return html`<foil-answer
        .question=${QUESTION}
        .answer=${answer}
        .waiting=${waiting}
        .staleReason=${this.state.stale ?? ''}
      ></foil-answer>
      ${this.failure()} ${this.body()}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-part-page': FoilPartPage;
  }
}
