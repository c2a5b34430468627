import { writePly } from '../src/load/write-ply.ts';
import { writeSectionTable } from '../src/load/write-section-table.ts';
import { writeStl } from '../src/load/write-stl.ts';
import { deform, nominalBlade } from './blade.ts';
import { makeBlank } from './blank.ts';
import { sampleExpected } from './expected.ts';
import { samplePlan } from './plan.ts';
import { readme } from './readme.ts';
import { ROOT_BLOCK } from './root-block.ts';
import { makeScan } from './scan.ts';
import { SAMPLE_DEFORMATION, SAMPLE_HEIGHTS, SAMPLE_SCAN } from './scenario.ts';
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
  /** Outline points of a nominal section. */
  pointsPerSection?: number;
}

/** The demonstration set: the same bytes for the same options. Lengths in mm. */
export function sampleSet(options: SampleOptions = {}): SampleFile[] {
  const { points = SAMPLE_SCAN.points, seed = SAMPLE_SCAN.seed, pointsPerSection = 400 } = options;
  const nominal = nominalBlade();
  const fillet = { from: ROOT_BLOCK.platformTop, radius: ROOT_BLOCK.fillet };
  const finished = deform({ ...nominal, fillet }, SAMPLE_DEFORMATION);
  const settings = { ...SAMPLE_SCAN, points, seed };
  const scan = makeScan({ ...settings, blade: finished });
  const text = (value: string) => new TextEncoder().encode(value);
  const json = (value: object) => text(`${JSON.stringify(value, null, 2)}\n`);
  const files: SampleFile[] = [
    {
      name: 'nominal-sections.csv',
      bytes: text(writeSectionTable(exactSections(SAMPLE_HEIGHTS, pointsPerSection), { stateUnit: true })),
      about: 'Nominal aerofoil: 21 sections from root to tip.',
    },
    { name: 'nominal.stl', bytes: writeStl(makeMesh()), about: 'Nominal aerofoil as a closed mesh.' },
    {
      name: 'nominal-with-root.stl',
      bytes: writeStl(makeMesh({ root: ROOT_BLOCK })),
      about: 'Nominal blade with fillet, platform and root block.',
    },
    {
      name: 'finished-scan.ply',
      bytes: writePly(scan.cloud),
      about: 'Finished blade as scanned, in the frame of the scanner.',
    },
    { name: 'blank.ply', bytes: writePly(makeBlank()), about: 'Forged blank with one area short of stock.' },
    { name: 'plan.json', bytes: json(samplePlan()), about: 'Sections, zones, limits and decision rule.' },
    {
      name: 'expected.json',
      bytes: json(sampleExpected(settings, scan.outlierCount)),
      about: 'Exact values of everything planted in the files.',
    },
  ];
  const list = files.map(({ name, about }) => ({ name, about }));
  return [...files, { name: 'README.txt', bytes: text(readme(list)), about: 'The scenario and the list of files.' }];
}
