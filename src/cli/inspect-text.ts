import type { Results, ZoneDeviation } from '../model/results.ts';
import { formatFixed, percentText } from '../report/format-number.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import { faultLines, rowLines } from './rows-text.ts';
import type { Talk } from './talk.ts';

/** The answer sentences, the placement and where the files lie, as lines; the first is the answer. */
export function inspectText(results: Results, paths: readonly string[], talk: Talk): string {
  const lines: string[] = [];
  const { part, sections } = results.answers;
  for (const answer of [part, sections]) if (answer !== undefined) lines.push(answer.text);
  if (part !== undefined) lines.push(`Verdict: ${talk.tint(VERDICT_WORDS[part.verdict], part.verdict)}`);
  const { alignment, deviation } = results;
  if (alignment !== undefined) {
    const { residual, method, handedness, leftOut } = alignment;
    const how = method === 'given' ? 'as given' : 'best fit';
    const mirrored = handedness === 'mirrored' ? ', MIRRORED' : '';
    const left = leftOut.count > 0 ? `, ${leftOut.count} points left out` : '';
    lines.push(`Placement: ${how}${mirrored}, rms ${formatFixed(residual.rms, 4)} mm${left}.`);
    const turn = alignment.rotationDeg.map((angle) => formatFixed(angle, 4)).join(', ');
    const move = alignment.translation.map((value) => formatFixed(value, 4)).join(', ');
    const pivot = alignment.pivot.map((value) => formatFixed(value, 1)).join(', ');
    lines.push(`  move X, Y, Z ${move} mm; turn A, B, C ${turn}° about ${pivot} (${alignment.rotationOrder})`);
  }
  if (deviation !== undefined) {
    for (const zone of deviation.zones) {
      const word = talk.tint(VERDICT_WORDS[zone.verdict].padEnd(13), zone.verdict);
      lines.push(`  ${word} ${zone.zone}: ${zoneText(zone)}, measured ${percentText(zone.coverage)}`);
    }
  }
  const rows = rowLines(results, talk);
  if (rows.length > 0) lines.push(talk.verbose ? 'Characteristics:' : 'Not passed:', ...rows);
  lines.push(...faultLines(results));
  lines.push(`Report: ${paths.find((path) => path.endsWith('.html'))}`);
  lines.push(`Files:  ${paths.filter((path) => !path.endsWith('.html')).join('\n        ')}`);
  return lines.map((line) => line.trimEnd()).join('\n');
}

/** The profile value where the zone has limits, else the least and most material. */
function zoneText({ profileValue, least, most }: ZoneDeviation): string {
  if (profileValue.value !== null) return `profile value ${formatFixed(profileValue.value, 3)} mm`;
  if (least.value === null || most.value === null) return 'no cell measured';
  const signed = (value: number): string => formatFixed(value, 3, { signed: true });
  return `least ${signed(least.value)}, most ${signed(most.value)} mm`;
}
