import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Results } from '../../src/model/results.ts';
import type { SpareCurve } from '../../src/model/stock-results.ts';
import type { BlankReply } from '../../src/worker/messages.ts';
import { type ShownLimits, shownLimits } from '../plots/hub.ts';
import { onTrial, placedValues, type ReviewState } from '../state/review-state.ts';
import { shownResults, type TrialField, trialField } from '../state/review-trial.ts';

/** How long a trial rests before curves and 3D follow it (ms); map and answer follow at once. */
const REST_MS = 160;
const SHORT_STEPS = 41;

/** What follows a trial after a rest. */
interface Rested {
  curves: readonly SpareCurve[];
  /** Area short of stock (mm²) against the least stock wanted (mm). */
  short: { x: number[]; y: number[] };
  drawing: BlankReply['drawing'];
  /** Limits the 3D view is coloured against. */
  limits: ShownLimits;
}

/** Keeps what the Stock page shows in step with the review: results or trial at once, curves and 3D after a rest. */
export class TrialController implements ReactiveController {
  results: Results | null = null;
  rested: Rested | null = null;
  private field: TrialField | null = null;
  private of: Pick<ReviewState, 'reply' | 'trial' | 'wanted'> = { reply: null, trial: null, wanted: null };
  private timer: ReturnType<typeof setTimeout> | undefined;
  private host: ReactiveControllerHost;
  private review: () => ReviewState;

  constructor(host: ReactiveControllerHost, review: () => ReviewState) {
    this.host = host;
    this.review = review;
    host.addController(this);
  }

  hostUpdate(): void {
    const review = this.review();
    const { reply, planned, trial, wanted } = review;
    const { of } = this;
    if (reply === of.reply && trial === of.trial && wanted === of.wanted) return;
    if (reply !== of.reply) {
      this.field = reply ? trialField(reply, planned) : null;
      this.rested = null;
    }
    this.of = { reply, trial, wanted };
    this.results = this.field ? shownResults(review, this.field) : null;
    clearTimeout(this.timer);
    if (this.field) this.timer = setTimeout(() => this.rest(), this.rested ? REST_MS : 0);
  }

  hostDisconnected(): void {
    clearTimeout(this.timer);
  }

  private rest(): void {
    const review = this.review();
    const { reply } = review;
    const { field } = this;
    if (!field || !reply) return;
    const values = review.trial ?? placedValues(reply);
    const { mean, placement } = reply.results.stock!;
    const most = Math.ceil(10 * Math.max(1, 1.6 * (mean.value ?? 0))) / 10;
    const x = Array.from({ length: SHORT_STEPS }, (_, i) => (most * i) / (SHORT_STEPS - 1));
    // The first trial is then as quick as the next.
    if (!onTrial(review)) field.results(values, review.wanted);
    const known = !onTrial(review) && placement.curves.length > 0;
    this.rested = {
      curves: known ? placement.curves : field.curves(values, review.wanted),
      short: { x, y: field.shortArea(values, x) },
      drawing: review.trial ? field.drawing(values) : reply.drawing,
      limits: shownLimits(this.results!, 0),
    };
    this.host.requestUpdate();
  }
}
