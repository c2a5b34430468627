import { SIDE_WORDS } from '../../judge/side-words.ts';
import type { Offset, ShortArea, Stock, StockPlacement, StockZoneResult } from '../../model/stock-results.ts';
import type { Value } from '../../model/value.ts';
import { formatFixed, formatNumber, formatU, percentText } from '../format-number.ts';
import { PLACEMENT_WORDS } from '../placement-words.ts';
import { AS_FORGED_WORDS, stockValueText } from '../stock-text.ts';
import { type Html, tableHtml, termsHtml, text, verdictHtml } from './html-parts.ts';

const AXES = ['X', 'Y', 'Z'] as const;
const KINDS = { thin: 'less than wanted', 'within-band': 'none, inside the lower limit', lack: 'none' } as const;

const mm = (value: number, digits = 3): string => formatFixed(value, digits, { signed: true });

function cell(value: Value): Html {
  return value.value === null ? '–' : formatNumber(value.value, { unit: value.unit, signed: true, u: value.u });
}

function placed(value: Stock['least']): Html {
  if (value.value === null || value.place === null) return '–';
  const { height, side } = value.place;
  return `${cell(value)}<br><small>height ${height.toFixed(1)} mm, ${SIDE_WORDS[side]}</small>`;
}

/** What is wanted and what there is, in terms. */
export function stockTerms(stock: Stock): Html {
  const { wanted, classes } = stock;
  const area = (value: number): string => `${value.toFixed(1)} mm²`;
  return termsHtml([
    [
      'Least stock wanted',
      `affected layer ${wanted.affectedLayer} + least chip ${wanted.minimumChip} + locating ${wanted.locating} mm, and ` +
        `${wanted.factor} u of the stock`,
    ],
    ['Least, most', `${stockValueText(stock.least)}; ${stockValueText(stock.most)}`],
    ['Mean', cell(stock.mean) === '–' ? null : `${mm(stock.mean.value!)} mm`],
    ['Measured', percentText(stock.coverage)],
    [
      'Areas',
      `enough ${area(classes.enoughMm2)}, thin ${area(classes.thinMm2)}, none but inside the lower limit ` +
        `${area(classes.withinBandMm2)}, none ${area(classes.lackMm2)}, not measured ${area(classes.notMeasuredMm2)}`,
    ],
    ['To remove', stock.volumeMm3.value === null ? null : `${stock.volumeMm3.value.toFixed(1)} mm³`],
    ['Sign', 'positive: material outside the finished surface'],
  ]);
}

/** Stock by zone, with what may stay as forged. */
export function stockZoneTable(stock: Stock): Html {
  return tableHtml<StockZoneResult>(
    [
      { head: 'Zone', cell: (zone) => text(zone.zone) },
      {
        head: 'Wanted mm',
        kind: 'n',
        cell: ({ wanted }) => `${mm(wanted.least)}${wanted.most === null ? '' : ` to ${mm(wanted.most)}`}`,
      },
      { head: 'Least mm', cell: (zone) => placed(zone.least) },
      { head: 'U (k=2)', kind: 'n', cell: (zone) => formatU(zone.least.u) },
      { head: 'Most mm', cell: (zone) => placed(zone.most) },
      { head: 'Mean', kind: 'n', cell: (zone) => cell(zone.mean) },
      {
        head: 'Short',
        kind: 'n',
        cell: ({ shortFraction }) => (shortFraction === null ? '–' : percentText(shortFraction)),
      },
      { head: 'Measured', kind: 'n', cell: (zone) => percentText(zone.coverage) },
      { head: 'Volume mm³', kind: 'n', cell: ({ volumeMm3 }) => volumeMm3.value?.toFixed(1) ?? '–' },
      {
        head: 'Verdict',
        cell: (zone) => `${verdictHtml(zone.verdict)}${zone.reason ? `<br><small>${text(zone.reason)}</small>` : ''}`,
      },
      {
        head: 'May stay as forged',
        cell: ({ asForged }) =>
          `<b>${AS_FORGED_WORDS[asForged.verdict]}</b><br><small>${text(asForged.reason)}</small>`,
      },
    ],
    stock.zones,
    (zone) => (zone.verdict === 'fail' ? 'fail' : ''),
  );
}

/** Connected areas with less stock than wanted. */
export function shortAreaTable(stock: Stock): Html {
  return tableHtml<ShortArea & { number: number }>(
    [
      { head: 'No.', kind: 'n', cell: (area) => String(area.number) },
      { head: 'Stock', cell: (area) => KINDS[area.kind] },
      { head: 'Zone', cell: (area) => text(area.zone) },
      { head: 'Least mm', cell: (area) => placed({ ...area.least, place: area.place }) },
      { head: 'Short by mm', kind: 'n', cell: (area) => area.depth.toFixed(3) },
      { head: 'Area mm²', kind: 'n', cell: (area) => area.areaMm2.toFixed(1) },
      {
        head: 'Heights mm',
        kind: 'n',
        cell: (area) => `${area.fromHeight.toFixed(1)} to ${area.toHeight.toFixed(1)}`,
      },
    ],
    stock.areas.map((area, i) => ({ ...area, number: i + 1 })),
    (area) => (area.kind === 'lack' ? 'fail' : ''),
  );
}

/** The placement in use beside the one that shares the stock evenly, and what holds each. */
export function stockPlacementTable(stock: Stock): Html {
  const rows = [stock.placement, ...(stock.better ? [stock.better] : [])];
  return tableHtml<StockPlacement>(
    [
      { head: 'Placement', cell: (row) => PLACEMENT_WORDS[row.method] },
      { head: 'To spare mm', kind: 'n', cell: (row) => cell(row.spare) },
      { head: 'U (k=2)', kind: 'n', cell: (row) => formatU(row.spare.u) },
      {
        head: 'Held by',
        cell: (row) =>
          row.heldBy
            .map(
              ({ place, zone, weight, limit }) =>
                `${text(zone)}, height ${place.height.toFixed(1)} mm, ${mm(place.along, 1)} mm along: ` +
                `${percentText(weight)}${limit === 'most' ? ' (most)' : ''}`,
            )
            .join('<br>'),
      },
      {
        head: 'Levels',
        cell: (row) => row.levels.map(({ zone, spare }) => `${text(zone)} ${mm(spare)}`).join('<br>') || '–',
      },
    ],
    rows,
  );
}

/** Values for the control, both ways, with the point that proves them. */
export function offsetTable(offsets: readonly Offset[]): Html {
  return tableHtml<Offset>(
    [
      { head: 'Moves', cell: (offset) => `the ${offset.moves}` },
      ...AXES.map((axis, i) => ({
        head: `${axis} mm`,
        kind: 'n' as const,
        cell: (offset: Offset) => mm(offset.translation[i], 4),
      })),
      ...AXES.map((axis, i) => ({
        head: `about ${axis} °`,
        kind: 'n' as const,
        cell: (offset: Offset) => mm(offset.rotationDeg[i], 4),
      })),
      { head: 'Order', cell: (offset) => text(offset.order) },
      { head: 'Pivot mm', cell: (offset) => offset.pivot.map((value) => formatFixed(value, 3)).join(', ') },
      {
        head: 'Check point before, after mm',
        cell: ({ checkPoint }) =>
          [checkPoint.before, checkPoint.after]
            .map((point) => point.map((value) => formatFixed(value, 4)).join(', '))
            .join('<br>'),
      },
    ],
    offsets,
  );
}
