import { decide } from '../judge/decide.ts';
import { overallVerdict } from '../judge/overall-verdict.ts';
import { ruleOf, unseenReason } from '../judge/zones.ts';
import type { StockZoneResult } from '../model/stock-results.ts';
import { bandChecks, type FlankCheck } from './as-forged-band.ts';
import { type FormNumber, flankSlope, flankWaves, formProfiles, SLOPE_BASE } from './as-forged-form.ts';
import { lengthText } from './length-text.ts';
import type { StockScene } from './stock-scene.ts';
import { flankSeen } from './stock-seen.ts';

/**
 * Whether the flanks of a zone may stay as forged, with the reason that binds: the stock must lie inside the profile band
 * of the finished surface, its waves and its slope along the surface below what the plan allows, and enough of it must be
 * measured. Edges are finished in any case.
 * @param zone index of the stock's zone
 */
export function asForged(scene: StockScene, zone: number): StockZoneResult['asForged'] {
  const { side } = scene.zones.reaches[zone];
  if (side === 'leading-edge' || side === 'trailing-edge')
    return { verdict: 'not-applicable', reason: 'Edges are finished.' };
  const seen = flankSeen(scene, zone);
  if (seen.area === 0) return { verdict: 'not-applicable', reason: 'The zone holds no flank.' };
  const band = bandChecks(scene, zone);
  if (band.every(({ verdict }) => verdict === 'no-limit'))
    return { verdict: 'no-limit', reason: 'The plan gives no profile limits here.' };
  const checks = [...band, ...formChecks(scene, zone)];
  const verdict = overallVerdict(checks.map((check) => check.verdict));
  const unseen = verdict === 'fail' ? null : unseenReason(seen.coverage, seen.gap, scene.plan);
  if (unseen !== null) return { verdict: 'not-measured', reason: unseen };
  if (verdict !== 'fail' && band.some((check) => check.verdict === 'no-limit'))
    return { verdict: 'no-limit', reason: 'The plan gives no profile limits for a part of the zone.' };
  if (verdict === 'pass') return { verdict, reason: checks.map(({ reason }) => reason).join(' ') };
  return { verdict, reason: checks.find((check) => check.verdict === verdict)?.reason ?? '' };
}

/** Waves and slope of the flanks against what the plan allows; nothing where it allows what comes. */
function formChecks(scene: StockScene, zone: number): FlankCheck[] {
  const limits = scene.plan?.stock?.asForged;
  if (limits?.waviness === undefined && limits?.slope === undefined) return [];
  const profiles = formProfiles(scene, zone);
  const rule = ruleOf(scene.plan);
  const checks: FlankCheck[] = [];
  const check = (found: FormNumber, limit: number, text: (value: number) => string, name: string): void => {
    const { value } = found;
    const { verdict } = decide(value, found.u, null, limit, rule);
    const words = verdict === 'fail' ? 'over' : verdict === 'not-proven' ? 'not proven below' : 'below';
    checks.push({
      verdict,
      reason: value === null ? `${name} not measured.` : `${name} ${text(value)}: ${words} the ${text(limit)} allowed.`,
    });
  };
  if (limits.waviness !== undefined)
    check(flankWaves(profiles), limits.waviness, (value) => lengthText(value), 'Waves of');
  if (limits.slope !== undefined)
    check(flankSlope(profiles), limits.slope, (value) => value.toFixed(4), `Slope over ${SLOPE_BASE} mm of`);
  return checks;
}
