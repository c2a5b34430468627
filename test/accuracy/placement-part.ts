import type { Outcome, Part } from './part.ts';
import { PLACEMENT_LIMITS, type PlacementFigures, placementFigures } from './placement.ts';

/** The undeformed sample blade placed from no guess under every motion, its limits those of `PLACEMENT_LIMITS`. */
export const placementPart: Part = { count: 200, of: 'motions', run: runPlacement };

async function runPlacement(motions: number): Promise<Outcome> {
  const found: PlacementFigures[] = [];
  for (const kind of ['cloud', 'mesh'] as const) found.push(await placementFigures(kind, motions));
  const rows = found.map(({ kind, acrossUm, alongUm, turnDeg, mirrored }) => [
    kind === 'cloud' ? '200,000 points with 5 µm noise' : 'mesh',
    `${acrossUm.toFixed(3)} µm`,
    `${alongUm.toFixed(3)} µm`,
    `${turnDeg.toFixed(5)}°`,
    `${mirrored} of ${motions}`,
  ]);
  const broken = found.filter((figures) => !isInside(figures)).map(({ kind }) => `${kind}: beyond the limits`);
  return {
    lines: rows.map(
      ([kind, across, along, turn, mirrored]) =>
        `${kind}: worst ${across} across, ${along} along the span, ${turn}; ${mirrored} mirrored ones reported`,
    ),
    broken,
    summary: {
      title: `Undeformed sample blade placed under ${motions} motions over all orientations, no first guess; worst errors:`,
      head: ['given as', 'across', 'along the span', 'turn', 'mirrored ones reported'],
      rows,
    },
  };
}

function isInside({ acrossUm, alongUm, turnDeg, mirrored, motions }: PlacementFigures): boolean {
  return (
    acrossUm < PLACEMENT_LIMITS.acrossUm &&
    alongUm < PLACEMENT_LIMITS.alongUm &&
    turnDeg < PLACEMENT_LIMITS.turnDeg &&
    mirrored === motions
  );
}
