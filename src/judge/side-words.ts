/** The sides of a blade in words. */
export const SIDE_WORDS = {
  suction: 'suction side',
  pressure: 'pressure side',
  'leading-edge': 'leading edge',
  'trailing-edge': 'trailing edge',
} as const;
