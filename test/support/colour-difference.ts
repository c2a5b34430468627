type Rgb = readonly [number, number, number];

const linear = (v: number) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);

/** Linear sRGB (0 … 1) of a `#rrggbb` colour. */
export function linearRgb(colour: string): Rgb {
  const n = Number.parseInt(colour.slice(1), 16);
  return [linear((n >> 16) / 255), linear(((n >> 8) & 255) / 255), linear((n & 255) / 255)];
}

/** Relative luminance of linear sRGB. */
export function luminance([r, g, b]: Rgb): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast of two colours (WCAG 2). */
export function contrast(a: string, b: string): number {
  const [x, y] = [luminance(linearRgb(a)), luminance(linearRgb(b))];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

/** Dichromat matrices on linear sRGB at full strength (Machado, Oliveira and Fernandes 2009). */
export const VISIONS: Record<string, readonly number[]> = {
  normal: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  protan: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deutan: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritan: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
  grey: [0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722],
};

/** A colour as seen with a vision's matrix, clipped to the screen's range. */
export function seen(rgb: Rgb, matrix: readonly number[]): Rgb {
  const at = (k: number) =>
    Math.min(1, Math.max(0, matrix[3 * k] * rgb[0] + matrix[3 * k + 1] * rgb[1] + matrix[3 * k + 2] * rgb[2]));
  return [at(0), at(1), at(2)];
}

/** CIE L*a*b* (D65) of linear sRGB. */
export function lab([r, g, b]: Rgb): Rgb {
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27) * (t / 116) + 16 / 116);
  const x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
  const y = f(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
  const z = f((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Colour difference CIEDE2000 of two L*a*b* colours (Sharma, Wu and Dalal 2005). */
export function ciede2000([l1, a1, b1]: Rgb, [l2, a2, b2]: Rgb): number {
  const rad = Math.PI / 180;
  const mean = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
  const g = 0.5 * (1 - Math.sqrt(mean ** 7 / (mean ** 7 + 25 ** 7)));
  const [p1, p2] = [a1 * (1 + g), a2 * (1 + g)];
  const [c1, c2] = [Math.hypot(p1, b1), Math.hypot(p2, b2)];
  const hue = (a: number, b: number) => (a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / rad + 360) % 360);
  const [h1, h2] = [hue(p1, b1), hue(p2, b2)];
  let dh = 0;
  if (c1 * c2 !== 0) dh = h2 - h1 > 180 ? h2 - h1 - 360 : h2 - h1 < -180 ? h2 - h1 + 360 : h2 - h1;
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh / 2) * rad);
  const [L, C] = [(l1 + l2) / 2, (c1 + c2) / 2];
  let H = h1 + h2;
  if (c1 * c2 !== 0) H = Math.abs(h1 - h2) <= 180 ? H / 2 : H < 360 ? (H + 360) / 2 : (H - 360) / 2;
  const t =
    1 -
    0.17 * Math.cos((H - 30) * rad) +
    0.24 * Math.cos(2 * H * rad) +
    0.32 * Math.cos((3 * H + 6) * rad) -
    0.2 * Math.cos((4 * H - 63) * rad);
  const sl = 1 + (0.015 * (L - 50) ** 2) / Math.sqrt(20 + (L - 50) ** 2);
  const sc = 1 + 0.045 * C;
  const sh = 1 + 0.015 * C * t;
  const turn = 60 * Math.exp(-(((H - 275) / 25) ** 2));
  const rt = -2 * Math.sqrt(C ** 7 / (C ** 7 + 25 ** 7)) * Math.sin(turn * rad);
  const [dl, dc, dH2] = [(l2 - l1) / sl, (c2 - c1) / sc, dH / sh];
  return Math.sqrt(dl * dl + dc * dc + dH2 * dH2 + rt * dc * dH2);
}
