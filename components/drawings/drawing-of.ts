import type { SVGTemplateResult } from 'lit';
import { ELLIPSES, edgeThicknessDrawing, FORMS, POINTS, RADII } from './edge-drawings.ts';
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
  placeDrawing,
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
  [/^R-OSC/, ANY, RADII.noseCurvature],
  [/^R-ARC/, ANY, RADII.wholeArc],
  [/^R-SB/, ANY, RADII.overSetback],
  [/^R-LSQ/, ANY, RADII.overAngle],
  [/^R-MIC/, ANY, RADII.inscribed],
  [/^R-END/, ANY, RADII.endCircle],
  [/^E-A$/, ANY, ELLIPSES.along],
  [/^E-B$/, ANY, ELLIPSES.across],
  [/^E-/, ANY, ELLIPSES.both],
  [/ORD|CHORD/, /edge.*thickness/i, () => edgeThicknessDrawing('chord')],
  [/CAM/, /edge.*thickness/i, () => edgeThicknessDrawing('camber')],
  [ANY, /edge.*thickness/i, () => edgeThicknessDrawing('circle')],
  [/^F-EDGE/, ANY, FORMS.fullness],
  [/^FLAT/, EDGE, FORMS.flat],
  [/^ASYM$/, ANY, FORMS.areas],
  [/^ASYM/, ANY, FORMS.asymmetry],
  [/TILT/, ANY, FORMS.tilt],
  [/^CORNERS/, ANY, FORMS.corners],
  [/^CORNER/, ANY, FORMS.corner],
  [/^PROFILE-LOCAL/, ANY, FORMS.fittedProfile],
  [ANY, /edge.*profile/i, FORMS.profile],
  [ANY, EDGE, FORMS.profile],
  [/SLOPE/, /wav/i, () => wavinessDrawing('slope')],
  [ANY, /wav/i, () => wavinessDrawing('height')],
  [ANY, /profile/i, profileDrawing],
  [ANY, /throat|opening/i, throatDrawing],
  [/CHORD/, /twist/i, () => twistDrawing('chord')],
  [ANY, /untwist/i, () => spanDrawing('turn')],
  [ANY, /twist/i, () => twistDrawing('fit')],
  [/-NORMAL$/, /displacement/i, () => displacementDrawing('normal')],
  [/-CHORD$/, /displacement/i, () => displacementDrawing('chord')],
  [/-Y$/, /displacement/i, () => displacementDrawing('y')],
  [ANY, /displacement/i, () => displacementDrawing('x')],
  [ANY, /^bow/, () => spanDrawing('bow')],
  [ANY, /^lean|^sweep/, () => spanDrawing('slope')],
  [/WIN/, /metal/i, (of) => metalAngleDrawing(metalEnd(of), 'window')],
  [ANY, /metal/i, (of) => metalAngleDrawing(metalEnd(of), 'end')],
  [/WIN/, /camberAngle/i, () => camberAngleDrawing('window')],
  [/ARC/, /camberAngle/i, () => camberAngleDrawing('arc')],
  [ANY, /camberAngle/i, () => camberAngleDrawing('end')],
  [/POS/, /camberMax/i, () => placeDrawing('camber')],
  [ANY, /camberMax/i, camberMaxDrawing],
  [ANY, /principal/i, axisDrawing],
  [ANY, /centroid/i, (of) => centroidDrawing(way(of))],
  [ANY, /perimeter/i, perimeterDrawing],
  [ANY, /^i[12]$/, axisDrawing],
  [ANY, /^area$|^i[xy][xy]$/, areaDrawing],
  [/^T-POS/, ANY, () => placeDrawing('thickness')],
  [/ORD|CHORD/, /thickness/i, () => cutDrawing('chord')],
  [/CAM/, /thickness/i, () => cutDrawing('camber')],
  [ANY, /thicknessMax/i, thicknessMaxDrawing],
  [ANY, /thickness/i, () => cutDrawing('circle')],
];

/** Returns the drawing of a definition of a quantity; null where there is none of its kind. */
export function drawingOf(id: string, of: string): Pieces | null {
  if (/^chord/.test(of)) return chordDrawing(chordKind(id));
  if (/stagger/i.test(of)) return staggerDrawing(chordKind(id));
  const rule = RULES.find(([ids, paths]) => ids.test(id) && paths.test(of));
  return rule ? rule[2](of) : null;
}
