import { css, type SVGTemplateResult, svg } from 'lit';

/** Pieces of the small drawings that explain definitions; all on a sheet of 132 × 78. */
export const SHEET = { width: 132, height: 78 };

/** Ink: the part. Grey dashes: aids. Violet: what is measured. */
export const drawingStyles = css`
  .shape {
    fill: var(--foil-panel);
    stroke: var(--foil-ink);
    stroke-width: 1.3;
    stroke-linejoin: round;
  }
  .open {
    fill: none;
    stroke: var(--foil-ink);
    stroke-width: 1.3;
  }
  .aid {
    fill: none;
    stroke: var(--foil-muted);
    stroke-width: 1;
    stroke-dasharray: 3.5 2.5;
  }
  .asked {
    fill: none;
    stroke: var(--foil-second);
    stroke-width: 1.8;
    stroke-linecap: round;
  }
  .faint {
    fill: var(--foil-second);
    opacity: 0.16;
  }
  .dot {
    fill: var(--foil-second);
  }
  .aid-dot {
    fill: var(--foil-muted);
  }
  text {
    font-size: 11px;
    fill: var(--foil-ink);
  }
`;

/** A cambered section: leading edge left, trailing edge right. */
export const SECTION =
  'M12 52C8 47 10 40 17 35C32 22 58 15 82 23C99 29 113 38 122 47C124 49 122 51 119 50C105 46 92 43 76 43C54 43 38 49 26 54C20 56 15 56 12 52Z';
/** Its line of centres. */
export const CENTRES = 'M15 48C32 34 56 28 78 32.5C96 36 110 43 119 48.5';
/** An edge drawn large, its nose at (24, 39). */
const NOSE = 'M128 10C84 10 24 16 24 39C24 62 84 68 128 68';

export const section = (): SVGTemplateResult => svg`<path class="shape" d=${SECTION}></path>`;
export const nose = (): SVGTemplateResult => svg`<path class="shape" d=${NOSE}></path>`;
export const aid = (d: string): SVGTemplateResult => svg`<path class="aid" d=${d}></path>`;
export const asked = (d: string): SVGTemplateResult => svg`<path class="asked" d=${d}></path>`;
export const open = (d: string): SVGTemplateResult => svg`<path class="open" d=${d}></path>`;
export const faint = (d: string): SVGTemplateResult => svg`<path class="faint" d=${d}></path>`;
export const dot = (x: number, y: number): SVGTemplateResult =>
  svg`<circle class="dot" cx=${x} cy=${y} r="2.8"></circle>`;
export const aidDot = (x: number, y: number): SVGTemplateResult =>
  svg`<circle class="aid-dot" cx=${x} cy=${y} r="2.2"></circle>`;
export const ring = (x: number, y: number, r: number): SVGTemplateResult =>
  svg`<circle class="asked" cx=${x} cy=${y} r=${r}></circle>`;
export const word = (x: number, y: number, text: string): SVGTemplateResult => svg`<text x=${x} y=${y}>${text}</text>`;

/** A measured length: line with an arrowhead at both ends. */
export function span(x1: number, y1: number, x2: number, y2: number): SVGTemplateResult {
  const long = Math.hypot(x2 - x1, y2 - y1);
  const [ux, uy] = [(x2 - x1) / long, (y2 - y1) / long];
  const head = (x: number, y: number, way: 1 | -1): string =>
    `M${x + way * (5 * ux - 2.4 * uy)} ${y + way * (5 * uy + 2.4 * ux)}L${x} ${y}L${x + way * (5 * ux + 2.4 * uy)} ${y + way * (5 * uy - 2.4 * ux)}`;
  return asked(`M${x1} ${y1}L${x2} ${y2}${head(x1, y1, 1)}${head(x2, y2, -1)}`);
}

/** An angle at (x, y) between two directions in degrees, counted as on a screen (clockwise). */
export function angle(x: number, y: number, r: number, fromDeg: number, toDeg: number): SVGTemplateResult {
  const at = (deg: number): string => {
    const rad = (deg * Math.PI) / 180;
    return `${(x + r * Math.cos(rad)).toFixed(1)} ${(y + r * Math.sin(rad)).toFixed(1)}`;
  };
  return asked(
    `M${at(fromDeg)}A${r} ${r} 0 ${Math.abs(toDeg - fromDeg) > 180 ? 1 : 0} ${toDeg > fromDeg ? 1 : 0} ${at(toDeg)}`,
  );
}

/** A ray from (x, y). */
export function ray(x: number, y: number, deg: number, long: number): string {
  const rad = (deg * Math.PI) / 180;
  return `M${x} ${y}L${(x + long * Math.cos(rad)).toFixed(1)} ${(y + long * Math.sin(rad)).toFixed(1)}`;
}
