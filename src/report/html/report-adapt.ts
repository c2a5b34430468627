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
} from '../adapt-text.ts';
import { formatNumber } from '../format-number.ts';
import { type Html, tableHtml, termsHtml, text, verdictHtml } from './html-parts.ts';

const EDGES: Record<AdaptedEdge['edge'], string> = { 'leading-edge': 'leading', 'trailing-edge': 'trailing' };

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
  const setbacks = [
    ...new Set(sections.flatMap(({ edges }) => edges.flatMap((edge) => edge.thicknessAt)).map((t) => t.setback)),
  ];
  return tableHtml<Row>(
    [
      {
        head: 'Section, height mm',
        cell: ({ section }) => `${text(section.id)}<br><small>${section.height.toFixed(2)}</small>`,
      },
      { head: 'Chord mm', kind: 'n', cell: ({ section }) => cell(section.chord) },
      {
        head: 'Edge, form',
        kind: 'word',
        cell: ({ edge }) => `${EDGES[edge.edge]}<br><small>${formText(edge)}</small>`,
      },
      { head: 'Ratio', kind: 'n', cell: ({ edge }) => cell(edge.ratio) },
      {
        head: 'Set-backs mm, suction / pressure',
        kind: 'n',
        cell: ({ edge }) => setbackText(edge).replace(' / ', ' /<br>'),
      },
      { head: 'Nose radius mm', kind: 'n', cell: ({ edge }) => cell(edge.noseRadius) },
      { head: 'Nose off mm', kind: 'n', cell: ({ edge }) => cell(edge.noseOffset, true) },
      ...setbacks.map((setback) => ({
        head: `Thickness at ${setback} mm / nominal`,
        kind: 'n' as const,
        cell: ({ edge }: Row) => thicknessCell(edge, setback),
      })),
      { head: 'Tangent break °', kind: 'n', cell: ({ edge }) => edge.tangentBreakDeg?.toFixed(3) ?? '–' },
      { head: 'Curvature rises', cell: ({ edge }) => monotoneText(edge) },
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

function thicknessCell({ thicknessAt }: AdaptedEdge, setback: number): Html {
  const found = thicknessAt.find((one) => one.setback === setback);
  if (!found) return '–';
  return found.nominal === null ? cell(found) : `${cell(found)} /<br>${formatNumber(found.nominal)}`;
}
