import type { Progress } from '../model/context.ts';
import type { Stream } from './talk.ts';

/** `auto`: a line on a terminal, nothing in a pipe. `json`: one JSON line a report. */
export type ProgressStyle = 'auto' | 'json' | 'none';

export const PROGRESS_STYLES: readonly ProgressStyle[] = ['auto', 'json', 'none'];

/** Least time between two reports of one step (ms). */
const EVERY = 100;
const CLEAR_LINE = '\r\u001b[K';

/** Shows progress on a stream; `rest` clears the line before other text is written. */
export function createProgress(
  style: ProgressStyle,
  stream: Stream,
): { show: (progress: Progress) => void; rest: () => void } {
  let step = '';
  let last = Number.NEGATIVE_INFINITY;
  let shown = false;
  const line = style === 'auto' && stream.isTTY === true && process.env.TERM !== 'dumb';
  const rest = () => {
    if (shown) stream.write(CLEAR_LINE);
    shown = false;
  };
  const show = (progress: Progress) => {
    const now = performance.now();
    if (progress.step === step && now - last < EVERY && progress.done < progress.total) return;
    step = progress.step;
    last = now;
    if (style === 'json') stream.write(`${JSON.stringify(progress)}\n`);
    else if (line) {
      const percent = progress.total > 0 ? Math.floor((100 * progress.done) / progress.total) : 0;
      stream.write(`${CLEAR_LINE}${progress.step} ${percent} %`);
      shown = true;
    }
  };
  return { show, rest };
}
