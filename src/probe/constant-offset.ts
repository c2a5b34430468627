import { type Warning, warning } from '../error.ts';
import { median } from '../math/median.ts';
import type { ProbeReading } from './probe-reading.ts';

/** An offset is that of a wrong compensation when it is this close to it, and this even, in tip radii. */
const CLOSE = 0.1;
const EVEN = 0.1;
/** Middle share of the distances whose width tells how even they are. */
const MIDDLE = 0.68;

interface Fault {
  /** Offset in tip radii and the reading it belongs to. */
  radii: number;
  points: ProbeReading['points'];
  code: string;
  cause: string;
  remedy: string;
}

const FAULTS: readonly Fault[] = [
  {
    radii: 1,
    points: 'compensated',
    code: 'probe/not-compensated',
    cause: 'the points were read as compensated but look like ball centres',
    remedy: 'Read them as ball centres (--probe centres).',
  },
  {
    radii: -1,
    points: 'compensated',
    code: 'probe/compensated-twice',
    cause: 'the file looks compensated twice',
    remedy: 'Export the points compensated once, or as ball centres.',
  },
  {
    radii: -1,
    points: 'centres',
    code: 'probe/compensated-twice',
    cause: 'the points were read as ball centres but look compensated already',
    remedy: 'Read them as compensated (--probe compensated).',
  },
  {
    radii: 1,
    points: 'centres',
    code: 'probe/not-compensated',
    cause: 'the ball looks twice as large as the tip radius says',
    remedy: 'Check the tip radius.',
  },
  {
    radii: -0.5,
    points: 'centres',
    code: 'probe/tip-diameter',
    cause: 'the ball looks half as large as the tip radius says, as if its diameter had been given',
    remedy: 'Give the radius of the ball, half its diameter.',
  },
];

/**
 * Returns a warning when a placed file's points lie off the nominal all round by an amount that a missing, double or
 * wrong compensation leaves. Nothing is mended: a part may really be that much larger.
 * @param deviations signed distances of the file's points that lie on the aerofoil (mm)
 */
export function offsetWarning(
  deviations: readonly number[] | Float64Array,
  { points, tipRadius }: ProbeReading,
  name: string,
): Warning | null {
  if (tipRadius === null || deviations.length === 0) return null;
  const sorted = Float64Array.from(deviations).sort();
  const middle = median(Array.from(sorted));
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))];
  const width = (at(0.5 + MIDDLE / 2) - at(0.5 - MIDDLE / 2)) / 2;
  if (width > EVEN * tipRadius) return null;
  const fault = FAULTS.find(
    (each) => each.points === points && Math.abs(middle - each.radii * tipRadius) < CLOSE * tipRadius,
  );
  if (fault === undefined) return null;
  const side = middle > 0 ? 'outside' : 'inside';
  const message = `The points lie ${Math.abs(middle).toFixed(3)} mm ${side} the nominal all round, about ${shareInWords(fault.radii)} of ${tipRadius} mm: ${fault.cause}.`;
  return warning(fault.code, message, name, `${fault.remedy} No action is needed if the part really is so.`);
}

function shareInWords(radii: number): string {
  return Math.abs(radii) === 1 ? 'the tip radius' : 'half the tip radius';
}
