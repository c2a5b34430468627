import { provide } from '@lit/context';
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { WorkerClient } from '../src/worker/client.ts';
import { appStyles } from './app-styles.ts';
import { emit, type FoilEvent } from './events.ts';
import { areasIn, areaWithFocus, firstControl } from './focus-areas.ts';
import {
  type AppState,
  changeSettings,
  INITIAL_STATE,
  type Page,
  type Preferences,
  usedPlan,
} from './state/app-state.ts';
import { DEFAULT_VIEW, type View, viewContext } from './state/context.ts';
import { createDefinitionSession, type DefinitionSession } from './state/definition-session.ts';
import { partName } from './state/report-answer.ts';
import { createReviewSession, type ReviewSession } from './state/review-session.ts';
import { stepWorst } from './state/selection.ts';
import { createSession, type Session } from './state/session.ts';
import { workerClient } from './state/spawn-worker.ts';
import { createStore, type Store } from './state/store.ts';
import { base } from './styles/base.ts';
import { installTokens } from './styles/tokens.ts';
import './controls/foil-keys.ts';
import './controls/foil-settings.ts';
import type { FoilKeys } from './controls/foil-keys.ts';
import type { FoilSettings } from './controls/foil-settings.ts';
import './panels/foil-part-page.ts';

const PAGES: [Page, string][] = [
  ['part', 'Part'],
  ['stock', 'Stock'],
  ['sections', 'Sections'],
  ['report', 'Report'],
];

/**
 * @summary The app: pages, settings of the view, and the one record everything is drawn from.
 * @fires foil-page - another page is wanted; refusing it keeps the present one
 */
@customElement('foil-app')
export class FoilApp extends LitElement {
  static override styles = [base, appStyles];

  /** Address of a list of files served beside the page; empty for none. */
  @property() served = '';
  /** Client of the worker; the app's own unless given before the first update. */
  @property({ attribute: false }) client: WorkerClient | null = null;
  @state() private state: AppState = INITIAL_STATE;
  @state() private loaded: ReadonlySet<string> = new Set();
  @provide({ context: viewContext }) @state() view: View = DEFAULT_VIEW;
  @query('foil-keys') private keyList!: FoilKeys;
  @query('foil-settings') private settings!: FoilSettings;

  private store: Store<AppState> = createStore(INITIAL_STATE);
  private session!: Session;
  private definitions!: DefinitionSession;
  private review!: ReviewSession;
  private dark = matchMedia('(prefers-color-scheme: dark)');
  private coarse = matchMedia('(pointer: coarse)');
  private stopListening = (): void => {};

  override connectedCallback(): void {
    super.connectedCallback();
    installTokens(document);
    this.client ??= workerClient();
    this.session = createSession(this.store, this.client);
    this.definitions = createDefinitionSession(this.store, this.client);
    this.review = createReviewSession(this.store, this.client, () => this.session.exampleBlank());
    this.stopListening = this.store.subscribe((s) => this.follow(s));
    this.dark.addEventListener('change', this.applyView);
    this.coarse.addEventListener('change', this.applyView);
    document.addEventListener('keydown', this.key);
    this.applyView();
    if (this.served) void this.session.served(this.served);
  }

  override disconnectedCallback(): void {
    this.stopListening();
    this.definitions.close();
    this.dark.removeEventListener('change', this.applyView);
    this.coarse.removeEventListener('change', this.applyView);
    document.removeEventListener('keydown', this.key);
    super.disconnectedCallback();
  }

  override updated(changed: PropertyValues<this>): void {
    super.updated(changed);
    document.title = `${PAGES.find(([p]) => p === this.state.page)![1]} – Camberwright`;
  }

  private follow(next: AppState): void {
    const preferences = next.preferences !== this.state.preferences;
    this.state = next;
    if (preferences) this.applyView();
    if (next.results) void this.load('map', () => import('./panels/foil-part-map.ts'));
  }

  /** Fetches a page's code once. */
  private async load(name: string, fetch: () => Promise<unknown>): Promise<void> {
    if (this.loaded.has(name)) return;
    await fetch();
    this.loaded = new Set([...this.loaded, name]);
  }

  private applyView = (): void => {
    const { theme, density, mark, letterKeys } = this.store.state.preferences;
    const shown = theme === 'system' ? (this.dark.matches ? 'dark' : 'light') : theme;
    const dense = density === 'auto' ? (this.coarse.matches ? 'roomy' : 'compact') : density;
    document.documentElement.dataset.theme = shown;
    document.documentElement.dataset.density = dense;
    this.view = { mark, letterKeys, theme: shown };
  };

  private prefer(change: Partial<Preferences>): void {
    this.store.update((s) => ({ ...s, preferences: { ...s.preferences, ...change } }));
  }

  private async go(page: Page): Promise<void> {
    if (!emit(this, 'foil-page', { page }, true)) return;
    if (page === 'stock') await this.load('stock', () => import('./panels/foil-stock-page.ts'));
    if (page === 'sections') await this.load('sections', () => import('./panels/foil-sections-page.ts'));
    if (page === 'report') await this.load('report', () => import('./panels/foil-report.ts'));
    this.store.update((s) => ({ ...s, page }));
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>('main')?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }

  private key = (event: KeyboardEvent): void => {
    const typing = event.composedPath()[0];
    const field = typing instanceof HTMLInputElement && typing.type === 'text';
    if (event.key === '?' && !field && this.view.letterKeys) this.keyList.show();
    else if (event.key === 'F6') this.nextArea(event.shiftKey ? -1 : 1);
    else if (event.key === 'Escape' && this.working) this.stop();
    else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'o') this.pickFiles();
    else return;
    event.preventDefault();
  };

  private get working(): boolean {
    return [this.state.job, this.state.review.job].some((job) => job.state === 'working');
  }

  private stop(): void {
    this.session.stop();
    this.review.stop();
  }

  private pickFiles(): void {
    const input = document.createElement('input');
    input.type = 'file';
    input.multiple = true;
    input.addEventListener('change', () => this.session.offer([...(input.files ?? [])].map(offered)));
    input.click();
  }

  /** Moves the focus to the first control of the next area, going round. */
  private nextArea(step: 1 | -1): void {
    const areas = areasIn(this.renderRoot).filter((area) => firstControl(area) !== null);
    const now = areaWithFocus(areas);
    const next = now < 0 ? (step > 0 ? 0 : areas.length - 1) : (now + step + areas.length) % areas.length;
    if (areas.length > 0) firstControl(areas[next])!.focus();
  }

  private drop(event: DragEvent): void {
    event.preventDefault();
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length > 0) this.session.offer(files.map(offered));
  }

  private open(event: FoilEvent<'foil-open'>): void {
    const { files, role } = event.detail;
    this.session.offer(files.map(offered), role ?? undefined);
  }

  private lock({ detail }: FoilEvent<'foil-lock'>): void {
    const { locks } = this.state.settings;
    const next = detail.locked ? [...locks, detail.motion] : locks.filter((m) => m !== detail.motion);
    const what = `${detail.locked ? 'Locked' : 'Freed'} ${detail.motion.toUpperCase()}`;
    this.store.update((s) => changeSettings(s, { locks: next }, what));
  }

  /** The next or previous worst place of what the page shows. */
  private worst(step: 1 | -1): void {
    this.store.update((s) => {
      const results = s.page === 'stock' ? s.review.reply?.results : s.results;
      return results ? { ...s, selection: stepWorst(results, s.selection, step) } : s;
    });
  }

  private cancel({ detail }: FoilEvent<'foil-cancel'>): void {
    if (detail.key === null) this.session.stop();
    else this.session.stopReading(detail.key);
  }

  private page(): TemplateResult | typeof nothing {
    const { state: s, loaded } = this;
    if (s.page === 'part') return html`<foil-part-page .state=${s}></foil-part-page>`;
    if (s.page === 'stock' && loaded.has('stock')) return html`<foil-stock-page .state=${s}></foil-stock-page>`;
    if (s.page === 'sections' && loaded.has('sections'))
      return html`<foil-sections-page .state=${s}></foil-sections-page>`;
    if (s.page === 'report' && loaded.has('report')) return html`<foil-report .state=${s}></foil-report>`;
    return nothing;
  }

  /** What is open and how far it is, in a few words. */
  private status(): string {
    const { files, page, review } = this.state;
    if (files.length === 0) return '';
    const part = partName(usedPlan(this.state)) ?? 'Part not named';
    const { job, stale } = page === 'stock' ? review : this.state;
    const results = page === 'stock' ? review.reply : this.state.results;
    if (job.state === 'working') return `${part}: ${page === 'stock' ? 'reviewing the blank' : 'measuring'}`;
    if (stale !== null) return `${part}: out of date`;
    return results ? part : `${part}: ${page === 'stock' ? 'blank not reviewed yet' : 'not measured yet'}`;
  }

  private header(): TemplateResult {
    const { page } = this.state;
    const status = this.status();
    return html`<header>
      <span class="name">Camberwright</span>
      <nav aria-label="Pages" data-area>
        ${PAGES.map(
          ([id, word]) =>
            html`<button aria-current=${id === page ? 'page' : 'false'} @click=${() => this.go(id)}>${word}</button>`,
        )}
      </nav>
      <span class="status small muted" title=${status}>${status}</span>
      <div class="tools" data-area>
        <button @click=${() => this.settings.show()}>Settings</button>
        <button @click=${() => this.keyList.show()}>Keys</button>
      </div>
    </header>`;
  }

  override render(): TemplateResult {
    const { session, store, definitions } = this;
    return html`${this.header()}
      <main
        tabindex="-1"
        aria-label=${PAGES.find(([p]) => p === this.state.page)![1]}
        @dragover=${(e: DragEvent) => e.preventDefault()}
        @drop=${this.drop}
        @foil-open=${this.open}
        @foil-remove=${(e: FoilEvent<'foil-remove'>) => session.remove(e.detail.key)}
        @foil-cancel=${this.cancel}
        @foil-unit=${(e: FoilEvent<'foil-unit'>) => session.unit(e.detail.key, e.detail.unit)}
        @foil-settings=${(e: FoilEvent<'foil-settings'>) => store.update((s) => changeSettings(s, e.detail.change, e.detail.what))}
        @foil-lock=${this.lock}
        @foil-measure=${() => session.measure()}
        @foil-example=${() => session.example()}
        @foil-review=${(e: FoilEvent<'foil-review'>) => this.review.act(e.detail)}
        @foil-select=${(e: FoilEvent<'foil-select'>) => store.update((s) => ({ ...s, selection: e.detail }))}
        @foil-worst=${(e: FoilEvent<'foil-worst'>) => this.worst(e.detail.step)}
        @foil-attempt=${(e: FoilEvent<'foil-attempt'>) => definitions.attempt(e.detail.slot, e.detail.ask)}
        @foil-forget=${(e: FoilEvent<'foil-forget'>) => definitions.forget(e.detail.slot)}
        @foil-use=${(e: FoilEvent<'foil-use'>) => definitions.use(e.detail.now, e.detail.before)}
        @foil-clear=${() => store.update((s) => ({ ...s, selection: {} }))}
      >
        ${this.page()}
      </main>
      <footer>
        <p>
          Decision support, not a release authority. Disposition belongs to authorised quality review; programs are proved
          by simulation and dry run. Nothing you open leaves this computer.
        </p>
      </footer>
      <div class="out" role="status">${this.state.said}</div>
      <foil-settings
        .preferences=${this.state.preferences}
        @foil-preferences=${(e: FoilEvent<'foil-preferences'>) => this.prefer(e.detail)}
      ></foil-settings>
      <foil-keys></foil-keys>`;
  }
}

function offered(file: File): { name: string; blob: Blob } {
  return { name: file.name, blob: file };
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-app': FoilApp;
  }
}
