import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { nominalBlade } from '../../samples/blade.ts';
import { makeScan } from '../../samples/scan.ts';
import { poseOf } from '../../samples/scenario.ts';
import { SUCTION } from '../../samples/section-form.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { writePly } from '../../src/load/write-ply.ts';
import { writeSectionTable } from '../../src/load/write-section-table.ts';
import { seededRandom } from '../../src/math/random.ts';
import type { Cloud, SectionTable } from '../../src/model/shape.ts';

export interface Bench {
  folder: string;
  /** Writes a file and returns its path. */
  put(name: string, content: string | Uint8Array): string;
  path(name: string): string;
  remove(): void;
}

/** A temporary folder for files made in a test. */
export function makeBench(): Bench {
  const folder = mkdtempSync(join(tmpdir(), 'camberwright-test-'));
  const path = (name: string) => join(folder, name);
  return {
    folder,
    path,
    put: (name, content) => {
      writeFileSync(path(name), content);
      return path(name);
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** The sample blade's sections, thinner than in the sample set. */
export function nominalTable(): SectionTable {
  return exactSections(evenHeights(9), 160);
}

export const tableText = (table: SectionTable): string => writeSectionTable(table, { stateUnit: true });

/** A small scan of the nominal blade, turned and moved, with 4 µm of noise. */
export function smallScan(): Cloud {
  return makeScan({
    blade: nominalBlade(),
    points: 24_000,
    seed: 11,
    noise: 0.004,
    edgeDensity: 3,
    pose: poseOf([12, -20, 40], [30, -10, 25]),
  }).cloud;
}

/** The points of one flank of such a scan. */
export function oneFlank(): Cloud {
  const scan = makeScan({ points: 24_000, seed: 12, noise: 0.004, pose: poseOf([3, -2, 4], [1, -1, 2]) });
  const positions = scan.cloud.positions.filter((_, i) => scan.piece[Math.floor(i / 3)] === SUCTION);
  return { kind: 'cloud', positions };
}

/** A cloud with every coordinate changed. */
export function changed(cloud: Cloud, change: (x: number, y: number, z: number) => [number, number, number]): Cloud {
  const positions = new Float64Array(cloud.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(change(cloud.positions[i], cloud.positions[i + 1], cloud.positions[i + 2]), i);
  }
  return { kind: 'cloud', positions };
}

/** Points on the faces of a box about as large as the blade. */
export function boxCloud(): Cloud {
  const uniform = seededRandom(5);
  const size = [45, 30, 120];
  const positions = new Float64Array(3 * 20_000);
  for (let i = 0; i < positions.length; i += 3) {
    const face = Math.floor(6 * uniform());
    for (let axis = 0; axis < 3; axis++) {
      const share = axis === face >> 1 ? face & 1 : uniform();
      positions[i + axis] = size[axis] * share;
    }
  }
  return { kind: 'cloud', positions };
}

export const plyOf = (cloud: Cloud): Uint8Array => writePly(cloud);
