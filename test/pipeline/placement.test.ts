import { expect, test } from 'vitest';
import { PLACEMENT_LIMITS, placementFigures } from '../accuracy/placement.ts';

const MOTIONS = 20;

test.each(['cloud', 'mesh'] as const)(
  `a %s under ${MOTIONS} seeded motions over all of SO(3) is placed right every time, mirrored ones are reported`,
  async (kind) => {
    const found = await placementFigures(kind, MOTIONS);
    expect(found.acrossUm).toBeLessThan(PLACEMENT_LIMITS.acrossUm);
    expect(found.alongUm).toBeLessThan(PLACEMENT_LIMITS.alongUm);
    expect(found.turnDeg).toBeLessThan(PLACEMENT_LIMITS.turnDeg);
    expect(found.mirrored).toBe(MOTIONS);
    // The span is the weak motion; a noisy cloud's stated play has to own up to the error.
    if (kind === 'cloud') expect(4 * found.leastPlayUm).toBeGreaterThan(found.alongUm);
  },
  300_000,
);
