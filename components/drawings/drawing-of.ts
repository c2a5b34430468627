import type { SVGTemplateResult } from 'lit';
import { edgeThicknessDrawing, FORMS, POINTS, RADII } from './edge-drawings.ts';
import {
  areaDrawing,
  axisDrawing,
  type ChordKind,
  camberAngleDrawing,
  camberMaxDrawing,
  centroidDrawing,
  chordDrawing,
  cutDrawing,
  displacementDrawing,
  metalAngleDrawing,
  perimeterDrawing,
  profileDrawing,
  spanDrawing,
  staggerDrawing,
  thicknessMaxDrawing,
  throatDrawing,
  twistDrawing,
  wavinessDrawing,
} from './section-drawings.ts';

type Pieces = SVGTemplateResult[];

/** A rule: what the definition's id and the quantity's path must match, and what is drawn then. */
type Rule = [id: RegExp, of: RegExp, draw: (of: string) => Pieces];

const chordKind = (id: string): ChordKind =>
  /BT/.test(id) ? 'bitangent' : /AX/.test(id) ? 'axial' : /CAM/.test(id) ? 'camber' : 'far';
const metalEnd = (of: string): 'leading' | 'trailing' => (/trailing/i.test(of) ? 'trailing' : 'leading');
const way = (of: string): 'x' | 'y' => (/Y$/.test(of) ? 'y' : 'x');
const ANY = /./;
const EDGE = /edge/i;

/** First match draws; rules on the path alone stand last. */
const RULES: Rule[] = [
  [/^EP-CAM/, ANY, POINTS.camber],
  [/^EP-EXT/, ANY, POINTS.extreme],
  [/^EP-FAR/, ANY, POINTS.farthest],
  [/^EP-CUR/, ANY, POINTS.curvature],
  [/^EP-NOM/, ANY, POINTS.nominal],
  [/^R-OSC/, ANY, RADII.noseCurvature],
  [/^R-LSQ.*B$/, ANY, RADII.overSetback],
  [/^R-LSQ/, ANY, RADII.overAngle],
  [/^R-MIC/, ANY, RADII.inscribed],
  [/^R-TAN/, ANY, RADII.tangent],
  [/^R-END/, ANY, RADII.endCircle],
  [/^E-/, /ellipse|radius/i, RADII.ellipse],
  [/ORD|CHORD/, /edge.*thickness/i, () => edgeThicknessDrawing('chord')],
  [/CAM/, /edge.*thickness/i, () => edgeThicknessDrawing('camber')],
  [ANY, /edge.*thickness/i, () => edgeThicknessDrawing('circle')],
  [ANY, /fullness/i, FORMS.fullness],
  [ANY, /flat/i, FORMS.flat],
  [ANY, /asymmetry/i, FORMS.asymmetry],
  [ANY, /tilt/i, FORMS.tilt],
  [ANY, /corner/i, FORMS.corner],
  [ANY, /edge.*profile/i, FORMS.profile],
  [ANY, /point[XY]?$/i, POINTS.camber],
  [ANY, /edge.*radius/i, RADII.overAngle],
  [ANY, /ellipse/i, RADII.ellipse],
  [ANY, EDGE, FORMS.profile],
  [ANY, /wav/i, wavinessDrawing],
  [ANY, /profile/i, profileDrawing],
  [ANY, /throat|opening/i, throatDrawing],
  [/CHORD/, /twist/i, () => twistDrawing('chord')],
  [ANY, /untwist/i, () => spanDrawing('turn')],
  [ANY, /twist/i, () => twistDrawing('fit')],
  [ANY, /displacement/i, (of) => displacementDrawing(way(of))],
  [ANY, /^bow/, () => spanDrawing('bow')],
  [ANY, /^lean|^sweep/, () => spanDrawing('slope')],
  [/WIN/, /metal/i, (of) => metalAngleDrawing(metalEnd(of), 'window')],
  [ANY, /metal/i, (of) => metalAngleDrawing(metalEnd(of), 'end')],
  [ANY, /camberAngle/i, camberAngleDrawing],
  [ANY, /camberMax/i, camberMaxDrawing],
  [ANY, /principal/i, axisDrawing],
  [ANY, /centroid/i, (of) => centroidDrawing(way(of))],
  [ANY, /perimeter/i, perimeterDrawing],
  [ANY, /area|inertia|moment/i, areaDrawing],
  [/ORD|CHORD/, /thickness/i, () => cutDrawing('chord')],
  [/CAM/, /thickness/i, () => cutDrawing('camber')],
  [ANY, /thicknessMax/i, thicknessMaxDrawing],
  [ANY, /thickness/i, () => cutDrawing('circle')],
];

/** Returns the drawing of a definition of a quantity; null where there is none of its kind. */
export function drawingOf(id: string, of: string): Pieces | null {
  if (/chord/i.test(of) && !/twist/i.test(of)) return chordDrawing(chordKind(id));
  if (/stagger/i.test(of)) return staggerDrawing(chordKind(id));
  const rule = RULES.find(([ids, paths]) => ids.test(id) && paths.test(of));
  return rule ? rule[2](of) : null;
}
