import { type Warning, warning } from '../error.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { BestFit } from './best-fit.ts';
import type { CoarsePose } from './coarse-pose.ts';
import type { FitCoverage } from './fit-coverage.ts';

/** Coverage below this is called partial. */
const PARTIAL_SHARE = 0.9;

const MOTIONS = [
  'along X',
  'along Y',
  'along the span',
  'in tilt about X',
  'in tilt about Y',
  'in turn about the span',
];

/** The largest part of a unit motion in words. */
export function motionInWords(motion: readonly number[]): string {
  const lead = motion.reduce((best, value, i) => (Math.abs(value) > Math.abs(motion[best]) ? i : best), 0);
  return MOTIONS[lead];
}

/** What the reader must know about a placement that was made. */
export function placeWarnings(
  fit: BestFit,
  coarse: CoarsePose | null,
  surface: NominalSurface,
  leastRatio: number,
): Warning[] {
  const list: Warning[] = [];
  const weak = fit.plays.filter((play) => play.weak);
  if (weak.length > 0) {
    const parts = weak.map(({ motion, play }) => `${motionInWords(motion)} to ${play.toFixed(3)} mm`);
    list.push(
      warning(
        'place/weak-motion',
        `The measured surface holds the part ${parts.join(', ')} (1 sigma).`,
        null,
        'Measure more of the surface, or lock the motion if the position is known otherwise.',
      ),
    );
  }
  if (fit.coverage.share < PARTIAL_SHARE)
    list.push(
      warning(
        'place/partial',
        `Measured points cover ${Math.round(100 * fit.coverage.share)} % of the aerofoil${where(fit.coverage, surface)}.`,
        null,
        'What was not measured is reported as not measured.',
      ),
    );
  if (fit.offset !== 0)
    list.push(
      warning(
        'place/oversize',
        `The part is ${Math.abs(fit.offset).toFixed(3)} mm ${fit.offset > 0 ? 'larger' : 'smaller'} than the nominal all round; the fit allows for that.`,
        null,
        'Set oversize to none for a fit that does not.',
      ),
    );
  if (!fit.converged)
    list.push(
      warning(
        'place/not-converged',
        `Best fit did not settle after ${fit.iterations} steps.`,
        null,
        'Lock the weakest motion, or measure more of the surface.',
      ),
    );
  if (coarse?.handedness === 'mirrored')
    list.push(
      warning('place/mirrored', 'The measured part is the mirror image of the nominal; accepted as asked.', null, null),
    );
  if (coarse?.rivalRatio != null && coarse.rivalRatio < leastRatio)
    list.push(
      warning(
        'place/ambiguous',
        `Another placement fits almost as well (${coarse.rivalRatio.toFixed(2)} times the residual); accepted as asked.`,
        null,
        'Check the placement, or give it with --pose.',
      ),
    );
  return list;
}

function where(coverage: FitCoverage, surface: NominalSurface): string {
  const { heights } = surface;
  const span = heights[heights.length - 1] - heights[0];
  const parts: string[] = [];
  if (coverage.pressureShare < 0.1 && coverage.suctionShare > 0.3) parts.push('the suction side only');
  if (coverage.suctionShare < 0.1 && coverage.pressureShare > 0.3) parts.push('the pressure side only');
  if (coverage.to - coverage.from < PARTIAL_SHARE * span)
    parts.push(`heights ${coverage.from.toFixed(1)} to ${coverage.to.toFixed(1)} mm only`);
  return parts.length > 0 ? `: ${parts.join(', ')}` : '';
}
