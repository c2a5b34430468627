import type { CatalogueEntry, Effect } from './catalogue.ts';

/** What a chosen definition changes about a quantity: how errors enter it, and whether it depends on the placement. */
export interface Traits {
  effect: Effect;
  placed: boolean;
}

/** Definitions whose traits are not those of their quantity's own definition. */
const OTHER: Record<string, Partial<Traits>> = {
  'chord CH-AX': { placed: true },
  'edge-form FLAT': { effect: 'height' },
  'edge-form CORNER': { effect: 'radius' },
  'edge-profile PROFILE-LOCAL': { placed: false },
  'waviness WAVE-SLOPE': { effect: 'none' },
  'thickness-max T-POS': { effect: 'none' },
  'camber-max F-POS': { effect: 'none' },
};

/** The traits of an entry measured by a definition. */
export function traitsOf(entry: CatalogueEntry, definition: string): Traits {
  const { effect, placed } = entry;
  return { effect, placed, ...(definition === entry.definition ? {} : OTHER[`${entry.quantity} ${definition}`]) };
}
