import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Adapt, AdaptCheck, AdaptedEdge, AdaptedSection } from '../model/adapt-results.ts';
import { formatFixed, percentText, withUnit } from './format-number.ts';

/** Words and numbers of an adapted blade, the same on screen and on paper. */

const FORM_WORDS: Record<AdaptedEdge['form'], string> = {
  ellipse: 'ellipse',
  circle: 'circle',
  conic: 'conic',
  nominal: 'as nominal',
};

/** Form of an edge and how it joins the flanks. */
export function formText({ form, continuity }: AdaptedEdge): string {
  return `${FORM_WORDS[form]}, ${continuity}`;
}

/** A value or limit of a check in the check's own unit; the dash for null. */
export function checkAmount({ id, unit }: Pick<AdaptCheck, 'id' | 'unit'>, amount: number | null): string {
  if (amount === null) return '–';
  if (id === 'coverage') return percentText(amount);
  return withUnit(formatFixed(amount, id === 'curvature' ? 0 : 4), unit);
}

/** Whether a flank stays: "suction side stays as forged". */
export function flankText({ side, kept }: Adapt['flanks'][number]): string {
  return `${SIDE_WORDS[side]} ${kept ? 'stays as forged' : 'is cut'}`;
}

/** Distances of the junctions from the nose line: "1.204 / 1.187", suction side first. */
export function setbackText({ setbacks }: AdaptedEdge): string {
  return setbacks === null ? '–' : `${setbacks.suction.toFixed(3)} / ${setbacks.pressure.toFixed(3)}`;
}

/** Thickness of an edge at each set-back against the nominal's: "0.812 against 0.810 at 0.5". */
export function thicknessTexts({ thicknessAt }: AdaptedEdge): string[] {
  return thicknessAt.map(({ setback, nominal, value }) => {
    const against = nominal === null ? '' : ` against ${nominal.toFixed(3)}`;
    return `${value === null ? '–' : value.toFixed(3)}${against} at ${setback}`;
  });
}

export function monotoneText({ curvatureMonotone }: AdaptedEdge): string {
  return curvatureMonotone === null ? '–' : curvatureMonotone ? 'yes' : 'no';
}

/** Where an adapted blade leaves the nominal: most, least and how much of the surface; null when there is none. */
export function departsText({ departs }: Adapt): string | null {
  if (departs === null) return null;
  const at = ({ value, place }: NonNullable<Adapt['departs']>['most']): string => {
    const where = place === null ? '' : ` at ${place.height.toFixed(1)} mm height, ${SIDE_WORDS[place.side]}`;
    return value === null ? '–' : `${formatFixed(value, 3, { signed: true })} mm${where}`;
  };
  return `Departs from nominal: most ${at(departs.most)}; least ${at(departs.least)}; ${departs.areaMm2.toFixed(1)} mm² by more than 0.01 mm.`;
}

/** Reasons of sections that could not be built, each with the sections it holds for. */
export function sectionReasons(sections: readonly AdaptedSection[]): { reason: string; ids: string[] }[] {
  const found = new Map<string, string[]>();
  for (const { id, reason } of sections)
    if (reason !== undefined) found.set(reason, [...(found.get(reason) ?? []), id]);
  return [...found].map(([reason, ids]) => ({ reason, ids }));
}
