import type { EdgeReach } from '../judge/map-places.ts';
import type { AdaptForm, Continuity, Plan } from '../model/plan.ts';

/** How the edges of a blade are adapted. Lengths in mm. */
export interface AdaptSettings {
  form: AdaptForm;
  /** Depth over half width of an ellipse; null: as the nominal edge has it. */
  ratio: number | null;
  continuity: Continuity;
  flanks: 'as-forged' | 'nominal';
  noseFrom: 'datum' | 'opposite-edge';
  /** Most slope of the blend. */
  slope: number;
  /** Set-backs at which the thickness of the edges is held. */
  setbacks: readonly number[];
  leading: EdgeSettings;
  trailing: EdgeSettings;
}

/** Set-backs of one edge from its nose line (mm). */
export interface EdgeSettings {
  /** Junctions lie between these; from the greatest on the edge fades into the flank. */
  least: number;
  most: number;
  /** Length of the fade, and whether the plan gives it: else it ends with the edge zone. */
  blend: number;
  isGiven: boolean;
  /** How far the edge zone reaches: the fade must end inside. */
  zone: number;
}

const ADAPT_DEFAULTS = { form: 'nominal', slope: 0.02, leastSetback: 0.02, edgeShare: 0.4 } as const;

/**
 * Returns what a plan says of adaptive edges, defaults where it says nothing: the nominal form, junctions up to the
 * largest set-back the thickness is held at or 40 % of the edge zone, the fade from there to its end.
 * @param reach of the edge zones along the outline
 */
export function adaptSettings(plan: Plan | null, reach: EdgeReach): AdaptSettings {
  const given = plan?.adapt ?? {};
  const setbacks = plan?.setbacks ?? [];
  const edge = (zone: number): EdgeSettings => {
    const held = setbacks.filter((b) => b < zone);
    const [least, most] = given.setback ?? [
      ADAPT_DEFAULTS.leastSetback,
      Math.max(ADAPT_DEFAULTS.edgeShare * zone, ...held),
    ];
    return { least, most, blend: given.blend ?? Math.max(0, zone - most), isGiven: given.blend !== undefined, zone };
  };
  const form = given.form ?? ADAPT_DEFAULTS.form;
  return {
    form,
    ratio: form === 'circle' ? 1 : (given.ratio ?? null),
    continuity: given.continuity ?? 'G1',
    flanks: given.flanks ?? 'as-forged',
    noseFrom: given.noseFrom ?? 'datum',
    slope: given.slope ?? ADAPT_DEFAULTS.slope,
    setbacks,
    leading: edge(reach.leading),
    trailing: edge(reach.trailing),
  };
}
