import type { Alignment } from '../../model/results.ts';
import { formatFixed } from '../format-number.ts';
import { PLACEMENT_METHODS } from '../placement-words.ts';
import { type Html, tableHtml, termsHtml, text } from './html-parts.ts';

const AXES = ['X', 'Y', 'Z'] as const;
const MOTIONS = ['X', 'Y', 'Z', 'about X', 'about Y', 'about Z'] as const;

/** The motion in words: its main parts, such as "Z +1.00, about X −0.21 (as length)". */
function motionText(motion: readonly number[]): string {
  return motion
    .map((part, i) => ({ part, name: MOTIONS[i] }))
    .filter(({ part }) => Math.abs(part) > 0.15)
    .sort((a, b) => Math.abs(b.part) - Math.abs(a.part))
    .map(({ part, name }) => `${name} ${formatFixed(part, 2, { signed: true })}`)
    .join(', ');
}

/** How the measured part was placed: method, both readings, inverse, residual, and the six plays. */
export function alignmentHtml(alignment: Alignment): Html {
  const reasons = Object.entries(alignment.leftOut.reasons).map(([reason, count]) => `${count} ${reason}`);
  const facts = termsHtml([
    ['Method', PLACEMENT_METHODS[alignment.method]],
    ['Locked', alignment.locks.length ? alignment.locks.join(', ') : 'nothing'],
    ['Pivot', `${alignment.pivot.map((value) => formatFixed(value, 3)).join(', ')} mm`],
    [
      'Residual',
      `rms ${formatFixed(alignment.residual.rms, 4)} mm, mean ${formatFixed(alignment.residual.mean, 4)} mm, largest ` +
        `${formatFixed(alignment.residual.max, 4)} mm over ${alignment.residual.count} points`,
    ],
    ['Left out', `${alignment.leftOut.count} points${reasons.length ? ` (${reasons.join(', ')})` : ''}`],
    ['Settled', `${alignment.converged ? 'yes' : 'NO'}, after ${alignment.iterations} steps`],
    ['Handedness', alignment.handedness === 'proper' ? 'proper' : 'MIRRORED, accepted knowingly'],
    [
      'Next best placement',
      alignment.rivalRatio === null
        ? null
        : `residual ${alignment.rivalRatio < 10 ? '' : 'at least '}${alignment.rivalRatio} times as large`,
    ],
  ]);
  const moves = [
    {
      name: 'Moves the part',
      shift: alignment.translation,
      turn: alignment.rotationDeg,
      order: alignment.rotationOrder,
    },
    {
      name: 'The same rotation, other order',
      shift: alignment.translation,
      turn: alignment.otherReading.rotationDeg,
      order: alignment.otherReading.rotationOrder,
    },
    {
      name: 'Moves the programme (inverse)',
      shift: alignment.inverse.translation,
      turn: alignment.inverse.rotationDeg,
      order: alignment.inverse.rotationOrder,
    },
  ];
  const readings = tableHtml<(typeof moves)[number]>(
    [
      { head: 'Reading', cell: (move) => text(move.name) },
      ...AXES.map((axis, i) => ({
        head: `${axis} mm`,
        kind: 'n' as const,
        cell: (move: (typeof moves)[number]) => formatFixed(move.shift[i], 4, { signed: true }),
      })),
      ...AXES.map((axis, i) => ({
        head: `about ${axis} °`,
        kind: 'n' as const,
        cell: (move: (typeof moves)[number]) => formatFixed(move.turn[i], 4, { signed: true }),
      })),
      { head: 'Order', cell: (move) => text(move.order) },
    ],
    moves,
  );
  const plays = tableHtml<Alignment['plays'][number]>(
    [
      { head: 'Motion (unit parts, turns as lengths)', cell: (play) => text(motionText(play.motion)) },
      { head: 'Play mm (1 sigma)', kind: 'n', cell: (play) => formatFixed(play.play, 4) },
      { head: 'Remark', cell: (play) => (play.weak ? '<b>WEAK: the data hardly hold this motion</b>' : '') },
    ],
    alignment.plays,
  );
  return `${facts}<div class="keep"><h3>Readings</h3>${readings}</div><div class="keep"><h3>Plays, weakest first</h3>${plays}</div>`;
}
