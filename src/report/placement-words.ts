import type { PlacementMethod } from '../model/place.ts';

/** How a placement was found, in short. */
export const PLACEMENT_WORDS: Record<PlacementMethod, string> = {
  'best-fit': 'best fit',
  'share-stock': 'stock shared evenly',
  datum: 'datum fit',
  given: 'as given',
};

/** The same with the method it is computed by. */
export const PLACEMENT_METHODS: Record<PlacementMethod, string> = {
  'best-fit': `${PLACEMENT_WORDS['best-fit']} (least squares): a diagnosis, not a datum placement`,
  'share-stock': `${PLACEMENT_WORDS['share-stock']} (linear programme)`,
  datum: `${PLACEMENT_WORDS.datum} (six targets)`,
  given: 'given, not fitted',
};
