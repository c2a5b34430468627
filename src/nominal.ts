import { CamberwrightError } from './error.ts';
import { type NominalBlade, nominalFromTable } from './fit/nominal-blade.ts';
import { nominalFromMesh } from './fit/nominal-from-mesh.ts';
import type { RunContext } from './model/context.ts';
import type { LoadedShape } from './model/shape.ts';
import type { InspectSettings } from './settings.ts';

/**
 * Returns the nominal blade of a loaded section table or mesh.
 * @throws shape/nominal-is-cloud for a point cloud, and what the makers of sections and surfaces throw
 */
export async function nominalBladeOf(
  loaded: LoadedShape,
  settings: Pick<InspectSettings, 'leadingEdgeTowards'>,
  context: RunContext,
): Promise<NominalBlade> {
  const options = { leadingEdgeTowards: settings.leadingEdgeTowards };
  const { shape } = loaded;
  if (shape.kind === 'sections') return nominalFromTable(shape, options);
  if (shape.kind === 'mesh') return nominalFromMesh(shape, options, context);
  throw new CamberwrightError('shape/nominal-is-cloud', 'The nominal is a point cloud; it has no surface.', {
    where: loaded.name,
    remedy: 'Give the nominal as a section table or a mesh.',
  });
}
