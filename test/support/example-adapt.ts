import type { Adapt, AdaptedEdge, AdaptedSection } from '../../src/model/adapt-results.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { measured, unmeasured } from '../../src/model/value.ts';
import { outwardNormals } from '../../src/report/svg/plot-samples.ts';
import { adaptAnswer } from '../../src/stock/adapt-answer.ts';
import type { AdaptReply } from '../../src/worker/messages.ts';

/** How far the flanks of the example were forged outside nominal (mm), and how far from a nose that fades (mm). */
export const FORGED = 0.05;
const FADE = 1.5;
/** Distance of the junctions from the nose line (mm). */
export const SETBACKS = { suction: 1.2, pressure: 1 };

function edgeOf(edge: AdaptedEdge['edge'], round: boolean): AdaptedEdge {
  return {
    edge,
    form: round ? 'circle' : 'ellipse',
    continuity: 'G2',
    ratio: round ? unmeasured('not-applicable', 'It is a circle.', '', 'E-AB') : measured(2.1, null, '', 'E-AB'),
    setbacks: SETBACKS,
    noseRadius: measured(0.246, null, 'mm', 'R-OSC'),
    noseOffset: measured(-0.004, 0.002, 'mm', 'NOSE-CAM'),
    thicknessAt: [
      { setback: 0.5, nominal: 0.812, ...measured(0.815, null, 'mm', 'T-ORD', { parameters: { setback: 0.5 } }) },
      { setback: 30, nominal: null, ...unmeasured('not-applicable', 'Too short.', 'mm', 'T-ORD') },
    ],
    tangentBreakDeg: 0.021,
    curvatureMonotone: !round,
    verdict: round ? 'not-proven' : 'pass',
    ...(round ? { reason: 'Curvature that does not rise to the nose (edges): not kept.' } : {}),
  };
}

function sectionOf({ id, height }: SectionResult): AdaptedSection {
  const edges = [edgeOf('leading-edge', false), edgeOf('trailing-edge', true)];
  return { id, height, chord: measured(41.237, null, 'mm', 'CH-FAR'), edges, verdict: 'not-proven' };
}

/** The nominal outline with flanks forged outside it, fading out towards both noses. */
function outlineOf({ id, height, plot }: SectionResult): AdaptReply['outlines'][number] {
  const line = plot!.nominal!;
  const outward = outwardNormals(line);
  const [low, high] = [Math.min(...line.along), Math.max(...line.along)];
  const points = new Float64Array(2 * line.x.length);
  line.along.forEach((at, i) => {
    const far = Math.min(Math.abs(at), at < 0 ? at - low : high - at);
    const out = FORGED * (1 - Math.exp(-((far / FADE) ** 2)));
    points.set([line.x[i] + out * outward.x[i], line.y[i] + out * outward.y[i]], 2 * i);
  });
  return { id, height, points };
}

/** The example blank's finished blade adapted: one flank stays, every check with a value. */
export function exampleAdapt({ sections }: Results): AdaptReply {
  const place = { height: 60, along: -12.5, side: 'suction', point: [1, 2, 60] } as const;
  const amount = (value: number) => ({
    ...measured(value, null, 'mm', 'DEPART'),
    place: { ...place, point: [1, 2, 60] as [number, number, number] },
  });
  const adapt: Adapt = {
    verdict: 'not-proven',
    method: 'edges',
    flanks: [
      { side: 'suction', kept: true, reason: 'Within both profile limits.' },
      { side: 'pressure', kept: false, reason: 'The plan has the flanks cut to nominal.' },
    ],
    sections: sections.map(sectionOf),
    checks: [
      {
        id: 'chord',
        name: 'Chord off the nominal',
        value: 0.0021,
        limit: 0.01,
        unit: 'mm',
        verdict: 'pass',
        where: 'section 2',
      },
      {
        id: 'curvature',
        name: 'Curvature that does not rise to the nose (edges)',
        value: 1,
        limit: 0,
        unit: '',
        verdict: 'not-proven',
        where: 'section 1, trailing edge',
      },
      {
        id: 'coverage',
        name: 'Flanks and cut metal measured',
        value: 0.9987,
        limit: 0.95,
        unit: '',
        verdict: 'pass',
        where: null,
      },
    ],
    departs: { most: amount(FORGED), least: amount(-0.003), areaMm2: 412.34 },
  };
  const files: AdaptReply['files'] = [
    { name: 'adapted-sections.csv', content: 'section,z,x,y\n' },
    { name: 'adapted.stl', content: new Uint8Array(84) },
    { name: 'adapted.step', content: 'ISO-10303-21;\n' },
    { name: 'adapted.igs', content: 'S\n' },
  ];
  return { adapt, answer: adaptAnswer(adapt), outlines: sections.map(outlineOf), files };
}

/** The same refused: nothing is drawn, nothing can be saved. */
export function refusedAdapt(results: Results): AdaptReply {
  const reply = exampleAdapt(results);
  const reason = 'The form cannot be made on the nominal section within the set-backs.';
  const adapt: Adapt = {
    ...reply.adapt,
    verdict: 'fail',
    sections: reply.adapt.sections.map((section) => ({ ...section, edges: [], verdict: 'fail', reason })),
    checks: [],
    departs: null,
    refusedReason: `section ${reply.adapt.sections[0].id}: ${reason}`,
  };
  return { adapt, answer: adaptAnswer(adapt), outlines: [], files: [] };
}
