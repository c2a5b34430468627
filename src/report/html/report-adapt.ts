import { SIDE_WORDS } from '../../judge/side-words.ts';
import type { Adapt, AdaptCheck, AdaptedEdge, AdaptedSection } from '../../model/adapt-results.ts';
import type { Value } from '../../model/value.ts';
import {
  checkAmount,
  departsText,
  flankText,
  formText,
  monotoneText,
  sectionReasons,
  setbackText,
  thicknessTexts,
} from '../adapt-text.ts';
import { formatNumber } from '../format-number.ts';
import { type Html, tableHtml, termsHtml, text, verdictHtml } from './html-parts.ts';

type Row = { section: AdaptedSection; edge: AdaptedEdge };

const cell = ({ value, u, unit }: Value, signed = false): Html =>
  formatNumber(value, { unit: unit === '' ? '1' : unit, u, signed });

/** A finished blade adapted to a blank: what stays, every check, every edge of every section, departure from nominal. */
export function adaptHtml(adapt: Adapt): Html {
  const departs = departsText(adapt);
  return [
    termsHtml([
      ...adapt.flanks.map((flank) => [flankText(flank), flank.reason] as const),
      ['Refused', adapt.refusedReason],
    ]),
    checkTable(adapt),
    edgeTable(adapt),
    termsHtml(sectionReasons(adapt.sections).map(({ reason, ids }) => [ids.join(', '), reason] as const)),
    departs === null ? '' : `<p>${text(departs)}</p>`,
  ].join('');
}

function checkTable({ checks }: Adapt): Html {
  return tableHtml<AdaptCheck>(
    [
      { head: 'Check', cell: (check) => text(check.name) },
      { head: 'Value', kind: 'n', cell: (check) => checkAmount(check, check.value) },
      { head: 'Limit', kind: 'n', cell: (check) => checkAmount(check, check.limit) },
      { head: 'Where', cell: ({ where }) => text(where ?? '–') },
      { head: 'Verdict', kind: 'word', cell: ({ verdict }) => verdictHtml(verdict) },
    ],
    checks,
    ({ verdict }) => (verdict === 'fail' ? 'fail' : ''),
  );
}

function edgeTable({ sections }: Adapt): Html {
  return tableHtml<Row>(
    [
      { head: 'Section', cell: ({ section }) => text(`${section.id}, ${section.height.toFixed(2)} mm`) },
      { head: 'Chord mm', kind: 'n', cell: ({ section }) => cell(section.chord) },
      { head: 'Edge', cell: ({ edge }) => SIDE_WORDS[edge.edge] },
      { head: 'Form', cell: ({ edge }) => formText(edge) },
      { head: 'Ratio', kind: 'n', cell: ({ edge }) => cell(edge.ratio) },
      { head: 'Set-backs mm, suction / pressure', kind: 'n', cell: ({ edge }) => setbackText(edge) },
      { head: 'Nose radius mm', kind: 'n', cell: ({ edge }) => cell(edge.noseRadius) },
      { head: 'Nose off mm', kind: 'n', cell: ({ edge }) => cell(edge.noseOffset, true) },
      { head: 'Thickness mm', cell: ({ edge }) => thicknessTexts(edge).join('<br>') || '–' },
      { head: 'Tangent break °', kind: 'n', cell: ({ edge }) => edge.tangentBreakDeg?.toFixed(3) ?? '–' },
      { head: 'Curvature rises to the nose', cell: ({ edge }) => monotoneText(edge) },
      {
        head: 'Verdict',
        cell: ({ edge }) =>
          `${verdictHtml(edge.verdict)}${edge.reason ? `<br><small>${text(edge.reason)}</small>` : ''}`,
      },
    ],
    sections.flatMap((section) => section.edges.map((edge) => ({ section, edge }))),
    ({ edge }) => (edge.verdict === 'fail' ? 'fail' : ''),
  );
}
