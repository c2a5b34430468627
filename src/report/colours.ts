/** Steps of the data colours: 0 = within limits, ±1 … ±4 = ever farther beyond the lower (−) or upper (+) limit. */
export type Step = -4 | -3 | -2 | -1 | 0 | 1 | 2 | 3 | 4;

/** Limits at one place (mm); null where there is none. */
export interface Limits {
  lower: number | null;
  upper: number | null;
}

export interface RampStep {
  step: Step;
  /** Fill of the step, `#rrggbb`, the same on every page, theme and print. */
  colour: string;
  /** Colour of the stripes that carry the sign; null within limits. */
  ink: string | null;
  /** Share of the tolerance width beyond the limit at which the step starts and ends. */
  from: number;
  to: number;
}

export const INK = '#14181D';
export const PAPER = '#FFFFFF';

/** Widths of the steps beyond a limit as shares of the tolerance width. */
export const STEP_BOUNDS = [0, 0.25, 0.5, 1] as const;

const ramp = (step: Step, colour: string, ink: string | null): RampStep => {
  const n = Math.abs(step);
  return {
    step,
    colour,
    ink,
    from: n === 0 ? 0 : STEP_BOUNDS[n - 1],
    to: n === 0 ? 0 : (STEP_BOUNDS[n] ?? Number.POSITIVE_INFINITY),
  };
};

/**
 * The ramp, −4 … +4. Blue: less material than allowed; orange-brown: more. Lightness alone carries the size, so that
 * +n and −n look the same in grey and stripes carry the sign. Neighbours differ by at least 14 (CIEDE2000) for normal
 * vision, the three kinds of colour blindness, and in grey.
 */
export const RAMP: readonly RampStep[] = [
  ramp(-4, '#313374', '#FFFFFF'),
  ramp(-3, '#485ABF', '#FFFFFF'),
  ramp(-2, '#5E89C9', INK),
  ramp(-1, '#92B9E1', INK),
  ramp(0, '#F1F0ED', null),
  ramp(1, '#DCAD62', INK),
  ramp(2, '#BC7900', INK),
  ramp(3, '#9C4E15', '#FFFFFF'),
  ramp(4, '#64290A', '#FFFFFF'),
];

/** Lines of plots on paper: never blue or orange, which mean missing and extra material. */
export const LINE_COLOURS = {
  ink: INK,
  second: '#7A2E8E',
  third: '#00695C',
  muted: '#5B6570',
  grid: '#D5D8DC',
} as const;

/** Tints of the verdict words on paper; shape and word carry the meaning. */
export const VERDICT_TINTS = {
  pass: '#005A63',
  fail: '#8A1538',
  'not-proven': '#7A5200',
  'not-measured': '#5B6570',
  'no-limit': '#5B6570',
  'not-applicable': '#5B6570',
} as const;

export function rampOf(step: Step): RampStep {
  return RAMP[step + 4];
}

/**
 * The step of a deviation: how far beyond its limit it lies, in shares of the tolerance width. With one limit only the
 * width is the distance from nominal (0) to that limit. A deviation on its limit is within.
 * @param deviation mm, positive = material outside nominal
 */
export function stepOf(deviation: number, lower: number | null, upper: number | null): Step {
  const sign = upper !== null && deviation > upper ? 1 : lower !== null && deviation < lower ? -1 : 0;
  if (sign === 0) return 0;
  const limit = (sign > 0 ? upper : lower)!;
  const width = lower !== null && upper !== null ? upper - lower : Math.abs(limit);
  const share = Math.abs(deviation - limit) / width;
  const size = share <= STEP_BOUNDS[1] ? 1 : share <= STEP_BOUNDS[2] ? 2 : share <= STEP_BOUNDS[3] ? 3 : 4;
  return (sign * size) as Step;
}

/** Red, green and blue (0 … 255) of a `#rrggbb` colour. */
export function rgbOf(colour: string): [number, number, number] {
  const n = Number.parseInt(colour.slice(1), 16);
  return [n >> 16, (n >> 8) & 255, n & 255];
}
