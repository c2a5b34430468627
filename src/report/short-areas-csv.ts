import type { Stock } from '../model/stock-results.ts';
import { csvText } from './csv.ts';

/** The areas short of stock as CSV, a line each, in the order of the results (mm, mm²). */
export function shortAreasCsv(stock: Stock): string {
  const head = [
    'Short area no.',
    'Stock',
    'Zone',
    'Height mm',
    'Along mm',
    'Side',
    'X mm',
    'Y mm',
    'Z mm',
    'Least mm',
    'U (k=2) mm',
    'Short by mm',
    'Area mm2',
    'From height mm',
    'To height mm',
  ];
  const lines = stock.areas.map((area, i) => [
    i + 1,
    area.kind,
    area.zone,
    area.place.height,
    area.place.along,
    area.place.side,
    ...area.place.point,
    area.least.value,
    area.least.u === null ? null : 2 * area.least.u,
    area.depth,
    area.areaMm2,
    area.fromHeight,
    area.toHeight,
  ]);
  return csvText([head, ...lines], ',');
}
