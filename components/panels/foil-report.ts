import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { reportHtml } from '../../src/report/html/report-html.ts';
import { saveFile } from '../controls/save-file.ts';
import { type AppState, usedPlan } from '../state/app-state.ts';
import { outputName } from '../state/report-answer.ts';
import { type ReportSubject, reportSubjects } from '../state/report-subject.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-answer.ts';

/** @summary The report as it will be printed, and the files to send. */
@customElement('foil-report')
export class FoilReport extends LitElement {
  static override styles = [
    base,
    css`
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: var(--foil-gap);
        margin: 14px 0;
        align-items: center;
      }
      iframe {
        display: block;
        width: 100%;
        height: max(520px, calc(100vh - 230px));
        border: 1px solid var(--foil-edge);
        background: #ffffff;
      }
    `,
  ];

  @property({ attribute: false }) state!: AppState;
  @state() private chosen: ReportSubject['id'] | null = null;
  @state() private document = '';
  private shown: Results | null = null;
  @query('iframe') private frame!: HTMLIFrameElement;

  private get subject(): ReportSubject | null {
    const subjects = reportSubjects(this.state);
    return subjects.find(({ id }) => id === this.chosen) ?? subjects[0] ?? null;
  }

  override willUpdate(): void {
    const results = this.subject?.results ?? null;
    if (results === this.shown) return;
    this.shown = results;
    this.document = results
      ? reportHtml(results, { plan: usedPlan(this.state), date: `${new Date().toISOString().slice(0, 16)}Z` })
      : '';
  }

  private save({ results }: ReportSubject, ending: string, type: string, text: string): void {
    saveFile(`${outputName(results, usedPlan(this.state))}-${ending}`, new Blob([text], { type }));
  }

  private choice(subject: ReportSubject): TemplateResult | typeof nothing {
    const subjects = reportSubjects(this.state);
    if (subjects.length < 2) return nothing;
    return html`<div class="group" role="group" aria-label="Report on">
      ${subjects.map(
        ({ id, label }) => html`<button
          aria-pressed=${id === subject.id}
          @click=${() => {
            this.chosen = id;
          }}
        >
          ${label}
        </button>`,
      )}
    </div>`;
  }

  override render(): TemplateResult {
    const { subject } = this;
    const head = html`<foil-answer
      question="What do I sign and send?"
      .answer=${subject?.answer ?? null}
      waiting="Nothing measured yet. Open the files on the Part page."
      .staleReason=${subject?.stale ?? ''}
    ></foil-answer>`;
    if (!subject) return head;
    const isOld = subject.stale !== null;
    return html`${head}
      <div class="tools" data-area role="group" aria-label="Outputs">
        ${this.choice(subject)}
        <button ?disabled=${isOld} @click=${() => this.save(subject, 'report.html', 'text/html', this.document)}>
          Report (HTML)
        </button>
        ${subject.outputs.map(
          ({ label, ending, type, make }) => html`<button
            ?disabled=${isOld}
            @click=${() => this.save(subject, ending, type, make(subject.results))}
          >
            ${label}
          </button>`,
        )}
        <button ?disabled=${isOld} @click=${() => this.frame.contentWindow?.print()}>Print</button>
        <span class="small muted">${isOld ? 'Out of date: measure again before sending.' : 'The same numbers as on screen and in the JSON.'}</span>
      </div>
      <iframe title="Report, as printed" tabindex="0" sandbox="allow-same-origin allow-modals" .srcdoc=${this.document}></iframe>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-report': FoilReport;
  }
}
