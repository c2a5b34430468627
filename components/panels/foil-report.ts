import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import { characteristicsCsv } from '../../src/report/characteristics-csv.ts';
import { reportHtml } from '../../src/report/html/report-html.ts';
import { resultsToJson } from '../../src/report/results-json.ts';
import { saveFile } from '../controls/save-file.ts';
import { type AppState, usedPlan } from '../state/app-state.ts';
import { outputName, reportAnswer } from '../state/report-answer.ts';
import { base } from '../styles/base.ts';
import '../controls/foil-answer.ts';

interface Output {
  label: string;
  ending: string;
  type: string;
  make: (results: Results, report: string) => string;
}

const OUTPUTS: Output[] = [
  { label: 'Report (HTML)', ending: 'report.html', type: 'text/html', make: (_, report) => report },
  {
    label: 'Characteristics (CSV)',
    ending: 'characteristics.csv',
    type: 'text/csv',
    make: (r) => characteristicsCsv(r),
  },
  { label: 'All results (JSON)', ending: 'results.json', type: 'application/json', make: resultsToJson },
];

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
  @state() private document = '';
  @query('iframe') private frame!: HTMLIFrameElement;

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('state') as AppState | undefined;
    const { results } = this.state;
    if (!results || before?.results === results) return;
    this.document = reportHtml(results, {
      plan: usedPlan(this.state),
      date: `${new Date().toISOString().slice(0, 16)}Z`,
    });
  }

  private download(output: Output): void {
    const { results } = this.state;
    if (!results) return;
    const text = output.make(results, this.document);
    saveFile(`${outputName(results, usedPlan(this.state))}-${output.ending}`, new Blob([text], { type: output.type }));
  }

  override render(): TemplateResult {
    const { results, stale } = this.state;
    const head = html`<foil-answer
      question="What do I sign and send?"
      .answer=${results ? reportAnswer(results) : null}
      waiting="Nothing measured yet. Open the files on the Part page."
      .staleReason=${stale ?? ''}
    ></foil-answer>`;
    if (!results) return head;
    return html`${head}
      <div class="tools" data-area role="group" aria-label="Outputs">
        ${OUTPUTS.map(
          (o) => html`<button ?disabled=${stale !== null} @click=${() => this.download(o)}>${o.label}</button>`,
        )}
        <button ?disabled=${stale !== null} @click=${() => this.frame.contentWindow?.print()}>Print</button>
        <span class="small muted">${stale === null ? 'The same numbers as on screen and in the JSON.' : 'Out of date: measure again before sending.'}</span>
      </div>
      <iframe title="Report, as printed" tabindex="0" sandbox="allow-same-origin allow-modals" .srcdoc=${this.document}></iframe>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-report': FoilReport;
  }
}
