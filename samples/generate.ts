import { writePly } from '../src/load/write-ply.ts';
import { writeSectionTable } from '../src/load/write-section-table.ts';
import { writeStl } from '../src/load/write-stl.ts';
import { deform, nominalBlade } from './blade.ts';
import { makeBlank } from './blank.ts';
import { edgesBlank, lostBlank, shiftBlank } from './blank-cases.ts';
import { makeBlankScan } from './blank-scan.ts';
import type { ForgedBlank } from './blank-surface.ts';
import { sampleExpected } from './expected.ts';
import { samplePlan } from './plan.ts';
import { readme } from './readme.ts';
import { ROOT_BLOCK } from './root-block.ts';
import { makeScan, type Scan } from './scan.ts';
import {
  BLANK_ROOT_MOTION,
  BLANK_ROOT_POINTS,
  BLANK_SCAN,
  BLANK_SEEDS,
  SAMPLE_DEFORMATION,
  SAMPLE_HEIGHTS,
  SAMPLE_SCAN,
} from './scenario.ts';
import { exactSections, makeMesh } from './tessellate.ts';

/** One file of the demonstration folder. */
export interface SampleFile {
  name: string;
  bytes: Uint8Array;
  /** What the file holds, in a sentence. */
  about: string;
}

export interface SampleOptions {
  /** Points on the finished blade's surface. */
  points?: number;
  seed?: number;
  /** Points on the aerofoil of each scanned blank; absent: as `points`, where that is given. */
  blankPoints?: number;
  /** Outline points of a nominal section. */
  pointsPerSection?: number;
  /** Names of the files to make; absent: all. */
  only?: readonly string[];
}

const encode = (text: string) => new TextEncoder().encode(text);
const json = (value: object) => encode(`${JSON.stringify(value, null, 2)}\n`);

/** The demonstration set: the same bytes for the same options. Lengths in mm. */
export function sampleSet(options: SampleOptions = {}): SampleFile[] {
  const { points = SAMPLE_SCAN.points, seed = SAMPLE_SCAN.seed, pointsPerSection = 400, only } = options;
  const fillet = { from: ROOT_BLOCK.platformTop, radius: ROOT_BLOCK.fillet };
  const finished = deform({ ...nominalBlade(), fillet }, SAMPLE_DEFORMATION);
  const settings = { ...SAMPLE_SCAN, points, seed };
  let scanned: Scan | null = null;
  const scan = (): Scan => {
    scanned ??= makeScan({ ...settings, blade: finished });
    return scanned;
  };
  const blankPoints = options.blankPoints ?? options.points ?? BLANK_SCAN.points;
  const makers: [string, string, () => Uint8Array][] = [
    [
      'nominal-sections.csv',
      'Nominal aerofoil: 21 sections from root to tip.',
      () => encode(writeSectionTable(exactSections(SAMPLE_HEIGHTS, pointsPerSection), { stateUnit: true })),
    ],
    ['nominal.stl', 'Nominal aerofoil as a closed mesh.', () => writeStl(makeMesh())],
    [
      'nominal-with-root.stl',
      'Nominal blade with fillet, platform and root block.',
      () => writeStl(makeMesh({ root: ROOT_BLOCK })),
    ],
    ['finished-scan.ply', 'Finished blade as scanned, in the frame of the scanner.', () => writePly(scan().cloud)],
    ['blank.ply', 'Forged blank with one area short of stock.', () => writePly(makeBlank())],
    [
      'blank-shift.ply',
      'Scanned blank that cleans up when it is placed anew.',
      () => scanOf(shiftBlank(), BLANK_SEEDS.shift, blankPoints),
    ],
    [
      'blank-lost.ply',
      'Scanned blank that no placement saves.',
      () => scanOf(lostBlank(), BLANK_SEEDS.lost, blankPoints),
    ],
    [
      'blank-edges.ply',
      'Scanned blank near net shape: only its edges are to be cut.',
      () => scanOf(edgesBlank(), BLANK_SEEDS.edges, blankPoints),
    ],
    ['plan.json', 'Sections, zones, limits, decision rule; stock, targets and edges.', () => json(samplePlan())],
    [
      'expected.json',
      'Exact values of everything planted in the files.',
      () => json(sampleExpected(settings, scan().outlierCount)),
    ],
  ];
  const list = makers.map(([name, about]) => ({ name, about }));
  makers.push(['README.txt', 'The scenario and the list of files.', () => encode(readme(list))]);
  const asked = makers.filter(([name]) => only === undefined || only.includes(name));
  return asked.map(([name, about, make]) => ({ name, bytes: make(), about }));
}

/** A blank as scanned with its forged root, as a file. */
function scanOf(blank: ForgedBlank, seed: number, points: number): Uint8Array {
  const rootPoints = Math.round((points * BLANK_ROOT_POINTS) / BLANK_SCAN.points);
  const root = { points: rootPoints, motion: BLANK_ROOT_MOTION };
  return writePly(makeBlankScan(blank, { ...BLANK_SCAN, points, seed, root }).cloud);
}
