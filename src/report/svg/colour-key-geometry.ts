import { RAMP, STEP_BOUNDS, type Step } from '../colours.ts';
import { formatNumber } from '../format-number.ts';

export interface KeyCell {
  /** Step of the ramp, or the texture of what is not measured. */
  step: Step | 'not-measured';
  x: number;
  width: number;
  /** Words under the cell, such as "0–25 %". */
  text: string;
  /** Short head over the cell; '' where the group's first cell has it. */
  head: string;
}

export interface ColourKeyGeometry {
  width: number;
  height: number;
  cells: KeyCell[];
  cellY: number;
  cellHeight: number;
  title: string;
  /** What the steps mean. */
  note: string;
}

export interface ColourKeyOptions {
  width: number;
  /** Distinct pairs of limits in force (mm). */
  limits: readonly { lower: number | null; upper: number | null }[];
  /** True when the limits are a display setting, not the plan's. */
  assumed?: boolean;
}

/** Cells and words of the colour key: nine steps from missing to extra material, and "not measured". */
export function colourKeyGeometry(options: ColourKeyOptions): ColourKeyGeometry {
  const gap = 14;
  const width = (options.width - gap) / (RAMP.length + 1.4);
  const cells: KeyCell[] = RAMP.map(({ step }, i) => ({
    step,
    x: i * width,
    width,
    text: step === 0 ? 'within' : shareText(step),
    head: step === -4 ? '▼ less than allowed' : step === 1 ? '▲ more than allowed' : '',
  }));
  cells.push({
    step: 'not-measured',
    x: RAMP.length * width + gap,
    width: 1.4 * width,
    text: 'not measured',
    head: '',
  });
  return {
    width: options.width,
    height: 74,
    cells,
    cellY: 40,
    cellHeight: 16,
    title: limitsText(options),
    note: 'Steps: amount beyond the limit as a share of the tolerance width.',
  };
}

function shareText(step: Step): string {
  const n = Math.abs(step);
  const per = (share: number) => String(100 * share);
  return n === 4 ? `> ${per(STEP_BOUNDS[3])} %` : `${per(STEP_BOUNDS[n - 1])}–${per(STEP_BOUNDS[n])} %`;
}

/** The sentence over the key that says what the steps are tied to. */
export function limitsText(options: Pick<ColourKeyOptions, 'limits' | 'assumed'>): string {
  const pairs = [...new Set(options.limits.filter((l) => l.lower !== null || l.upper !== null).map(pairText))];
  if (pairs.length === 0) return 'No limits given.';
  const list = `${pairs.slice(0, 4).join('; ')}${pairs.length > 4 ? '; …' : ''} mm`;
  const what = options.assumed ? 'No limits in the plan; shown against' : 'Limits';
  return `${what} ${list}.`;
}

function pairText(limit: { lower: number | null; upper: number | null }): string {
  const text = (value: number) => formatNumber(value, { unit: 'mm', signed: true });
  if (limit.lower === null) return `up to ${text(limit.upper!)}`;
  if (limit.upper === null) return `from ${text(limit.lower)}`;
  return `${text(limit.lower)} to ${text(limit.upper)}`;
}
