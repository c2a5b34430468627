import type { Alignment, ZoneDeviation } from '../model/results.ts';
import type { Row } from './judge-row.ts';

/** The profile row of a zone: zone value V against the whole width t. */
export function profileRow(zone: ZoneDeviation, method: Alignment['method'] | null): Row {
  const width = zone.lower !== null && zone.upper !== null ? zone.upper - zone.lower : null;
  const { value, u, parameters } = zone.profileValue;
  const over = value === null || width === null ? null : Math.max(0, value - width);
  return {
    id: `profile:${zone.zone}`,
    of: 'profile',
    name: `Profile, ${zone.zone}`,
    section: null,
    definition: zone.profileValue.definition,
    ...(parameters ? { parameters } : {}),
    ...(zone.budget ? { budget: zone.budget } : {}),
    requirement: { nominal: null, lower: null, upper: width, unit: 'mm' },
    value,
    u,
    deviation: null,
    outOfTolerance: over,
    verdict: zone.verdict,
    alignment: method ?? 'none',
    coverage: zone.coverage,
    ...(zone.reason === undefined ? {} : { reason: zone.reason }),
  };
}
