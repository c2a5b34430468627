import { CamberwrightError, type Warning, warning } from '../error.ts';
import type { ProbeStatement } from '../model/shape.ts';

/** How the points of one file are read. */
export interface ProbeReading {
  points: 'centres' | 'compensated';
  /** Radius of the ball (mm); null for compensated points of which it is not known. */
  tipRadius: number | null;
}

/** Largest tip radius that is believed (mm). */
const LARGEST_TIP = 25;
/** Statements of a radius that differ by less (mm) are the same. */
const SAME_RADIUS = 1e-9;

/**
 * Returns how a file's points are read: the setting over the file's own statement, with a warning where the two differ;
 * null when neither speaks of a probe.
 * @throws `probe/tip-radius` for centres without a radius, and for a radius that is no ball's
 */
export function probeReading(
  setting: ProbeStatement | null,
  stated: ProbeStatement | undefined,
  name: string,
): { reading: ProbeReading | null; warnings: Warning[] } {
  const warnings: Warning[] = [];
  const points = setting?.points ?? stated?.points;
  const tipRadius = setting?.tipRadius ?? stated?.tipRadius;
  if (points === undefined && tipRadius === undefined) return { reading: null, warnings };
  if (setting?.points && stated?.points && setting.points !== stated.points) {
    warnings.push(differs(name, inWords(stated.points), inWords(setting.points)));
  }
  if (setting?.tipRadius && stated?.tipRadius && Math.abs(setting.tipRadius - stated.tipRadius) > SAME_RADIUS) {
    warnings.push(differs(name, `a tip radius of ${stated.tipRadius} mm`, `${setting.tipRadius} mm`));
  }
  if (tipRadius !== undefined && !(tipRadius > 0 && tipRadius <= LARGEST_TIP)) {
    throw new CamberwrightError('probe/tip-radius', `A tip radius of ${tipRadius} mm is no probe ball's.`, {
      where: name,
      remedy: `Give the radius of the ball in mm, above 0 and at most ${LARGEST_TIP}.`,
    });
  }
  if (points === 'centres' && tipRadius === undefined) {
    throw new CamberwrightError('probe/tip-radius', 'The points are ball centres, but the tip radius is not known.', {
      where: name,
      remedy: 'Give the tip radius with --tip-radius, in the plan, or in the file as "# tip radius: 1 mm".',
    });
  }
  if (points === undefined) {
    warnings.push(
      warning(
        'probe/points-assumed',
        'A tip radius is given, but not what the points are; they are taken as compensated.',
        name,
        'Say with --probe whether the points are centres or compensated.',
      ),
    );
  }
  return { reading: { points: points ?? 'compensated', tipRadius: tipRadius ?? null }, warnings };
}

function inWords(points: 'centres' | 'compensated'): string {
  return points === 'centres' ? 'ball centres' : 'compensated points';
}

function differs(name: string, said: string, used: string): Warning {
  return warning(
    'probe/statement-differs',
    `The file states ${said}; used, as asked for: ${used}.`,
    name,
    'Correct the setting or the file, whichever is wrong.',
  );
}
