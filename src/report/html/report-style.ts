/** Paper of the printed report. */
export type Paper = 'A4' | 'Letter';

/** Text as a CSS string. */
export function cssString(text: string): string {
  return `"${text.replace(/[\p{Cc}"\\<]/gu, (char) => `\\${char.codePointAt(0)!.toString(16)} `)}"`;
}

/**
 * Style sheet of the report: light paper on screen and in print, running head and page numbers in the page margins,
 * table heads repeated, rows and figures not split.
 * @param head running head, plain text
 */
export function reportStyle(paper: Paper, head: string): string {
  return `
@page { size: ${paper} portrait; margin: 18mm 14mm 16mm 16mm;
  @top-left { content: ${cssString(head)}; font: 8pt system-ui, sans-serif; color: #14181d; }
  @bottom-left { content: "Decision support, not a release. See cautions."; font: 8pt system-ui, sans-serif; color: #14181d; }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt system-ui, sans-serif; color: #14181d; } }
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 24px; max-width: 190mm; background: #fff; color: #14181d;
  font: 10pt/1.4 system-ui, "Segoe UI", "Liberation Sans", Arial, sans-serif; font-variant-numeric: tabular-nums slashed-zero; }
h1 { font-size: 15pt; margin: 0 0 2mm; }
h2 { font-size: 12pt; margin: 6mm 0 2mm; padding-bottom: 1mm; border-bottom: 0.5pt solid #14181d; break-after: avoid; }
h3 { font-size: 10pt; margin: 4mm 0 1mm; break-after: avoid; }
p { margin: 1mm 0 2mm; orphans: 3; widows: 3; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 3mm; font-size: 8pt; line-height: 1.25; }
thead { display: table-header-group; }
tr, figure, .keep { break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: 1mm; border-bottom: 0.4pt solid #b5bac0; }
th { border-bottom: 1pt solid #14181d; font-weight: 600; vertical-align: bottom; }
td.n, th.n { text-align: right; }
td.n { white-space: nowrap; }
td.word { white-space: nowrap; }
td.write { min-width: 11mm; }
td.break { overflow-wrap: anywhere; }
tr.fail td { font-weight: 600; }
td small { font-weight: 400; }
caption { text-align: left; font-weight: 600; padding-bottom: 1mm; }
figure { margin: 2mm 0 4mm; }
figure svg { max-width: 100%; height: auto; display: block; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.6mm 4mm; margin: 1mm 0 3mm; font-size: 9pt; }
dt { font-weight: 600; }
dd { margin: 0; overflow-wrap: anywhere; }
.answer { border: 1.2pt solid #14181d; padding: 3mm 4mm; margin: 3mm 0; font-size: 11pt; break-inside: avoid; }
.answer p { margin: 0 0 1.5mm; display: grid; grid-template-columns: max-content 1fr; gap: 3mm; }
.answer p:last-child { margin: 0; }
.verdict { display: inline-flex; align-items: center; gap: 1mm; white-space: nowrap; vertical-align: bottom; }
.verdict svg { flex: none; }
.sign { display: grid; grid-template-columns: 1fr 1fr; gap: 8mm 10mm; margin-top: 6mm; break-inside: avoid; }
.sign div { border-bottom: 0.6pt solid #14181d; height: 12mm; font-size: 8.5pt; }
.sign div.wide { grid-column: 1 / -1; height: 16mm; }
.key { font-size: 8.5pt; }
@media print { body { padding: 0 0.5mm 0 0; max-width: none; } }
`;
}
