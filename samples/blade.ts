import { localDistance, localPoint, outwardRate } from './disk-envelope.ts';
import type { FormRate, Piece, SectionForm } from './section-form.ts';

/** A smooth local change: `amount × (1 + cos(π d / halfWidth)) / 2` within `halfWidth` of `centre` (mm of height). */
interface Band {
  of: LawName;
  centre: number;
  halfWidth: number;
  amount: number;
}

type LawName = 'centres' | 'turning' | 'angle' | 'thickness' | 'leading' | 'trailing' | 'x' | 'y';

/**
 * A blade in closed form: every section is a disk envelope whose numbers are polynomials in height / span (constant
 * term first) plus bands. What is stacked on the Z axis (plus x, y) is the middle of the line of centres.
 */
export interface BladeLaw extends Record<LawName, number[]> {
  span: number;
  ratio: number;
  peak: number;
  bands: Band[];
  /** Concave circular fillet that leaves the platform at `from` (mm) tangentially; null for a bare aerofoil. */
  fillet: { from: number; radius: number } | null;
}

const DEG = Math.PI / 180;

export interface NominalOptions {
  /** Span (mm). */
  span?: number;
  /** a : b of both edges; 1 makes circular edges. */
  ratio?: number;
  /** Shift of the tip in x and y (mm), linear in height. */
  lean?: [number, number];
  /** Shift at mid-span in x and y (mm), a parabola that vanishes at both ends. */
  bow?: [number, number];
  fillet?: { from: number; radius: number } | null;
}

/**
 * The nominal blade: longest chord 45 → 30 mm (circular edges), camber angle 34 → 22°, turn −18 → −53°, largest
 * thickness 8 → 4 % of chord, edge radii 0.45 → 0.28 (leading) and 0.30 → 0.20 mm (trailing), root to tip.
 */
export function nominalBlade(options: NominalOptions = {}): BladeLaw {
  const { span = 120, ratio = 1, lean = [0, 0], bow = [0, 0], fillet = null } = options;
  const edges = [ratio * 0.75, -ratio * 0.27];
  return {
    span,
    ratio,
    peak: 0.42,
    centres: [45 - edges[0], -15 - edges[1]],
    turning: [34 * DEG, -12 * DEG],
    angle: [-18 * DEG, -30 * DEG, -5 * DEG],
    thickness: [3.6, -3, 0.6],
    leading: [0.45, -0.17],
    trailing: [0.3, -0.1],
    x: [0, lean[0] + 4 * bow[0], -4 * bow[0]],
    y: [0, lean[1] + 4 * bow[1], -4 * bow[1]],
    bands: [],
    fillet,
  };
}

/** Changes of a blade that keep it a disk envelope, so that every expected value stays in closed form. */
export interface Deformation {
  /** Extra turn (degrees): polynomial in height / span. */
  twistDeg?: number[];
  /** Shift at mid-span in x and y (mm). */
  bow?: [number, number];
  /** Shift of the tip in x and y (mm). */
  lean?: [number, number];
  /** Added to the largest thickness (mm): polynomial in height / span. */
  thickness?: number[];
  /** Added to the edge radii (elliptic edges: to b) (mm). */
  leading?: number[];
  trailing?: number[];
  /** Added to the distance between the edge centres (mm). */
  centres?: number[];
  /** Added to the camber angle (degrees). */
  camberDeg?: number[];
  bands?: Band[];
}

function sum(a: number[], b: number[], scale = 1): number[] {
  return Array.from({ length: Math.max(a.length, b.length) }, (_, i) => (a[i] ?? 0) + scale * (b[i] ?? 0));
}

/** The blade after the stated changes. */
export function deform(blade: BladeLaw, change: Deformation): BladeLaw {
  const { bow = [0, 0], lean = [0, 0] } = change;
  return {
    ...blade,
    centres: sum(blade.centres, change.centres ?? []),
    turning: sum(blade.turning, change.camberDeg ?? [], DEG),
    angle: sum(blade.angle, change.twistDeg ?? [], DEG),
    thickness: sum(blade.thickness, change.thickness ?? []),
    leading: sum(blade.leading, change.leading ?? []),
    trailing: sum(blade.trailing, change.trailing ?? []),
    x: sum(blade.x, [0, lean[0] + 4 * bow[0], -4 * bow[0]]),
    y: sum(blade.y, [0, lean[1] + 4 * bow[1], -4 * bow[1]]),
    bands: [...blade.bands, ...(change.bands ?? [])],
  };
}

/** One law and its slope at a height, written to `pair`. */
function evaluate(blade: BladeLaw, name: LawName, z: number, pair: Float64Array): void {
  const t = z / blade.span;
  const terms = blade[name];
  let value = 0;
  let slope = 0;
  for (let i = terms.length - 1; i >= 0; i--) {
    slope = slope * t + value;
    value = value * t + terms[i];
  }
  slope /= blade.span;
  for (const band of blade.bands) {
    const d = (z - band.centre) / band.halfWidth;
    if (band.of !== name || Math.abs(d) >= 1) continue;
    value += (band.amount * (1 + Math.cos(Math.PI * d))) / 2;
    slope -= (band.amount * Math.PI * Math.sin(Math.PI * d)) / (2 * band.halfWidth);
  }
  pair[0] = value;
  pair[1] = slope;
}

const pair = new Float64Array(2);

/** A section's form at a height, with its derivatives by height. */
export interface FormAtHeight {
  form: SectionForm;
  rate: FormRate;
}

/** The section of a blade at a height (mm); heights beyond the span continue the polynomials. */
export function formAt(blade: BladeLaw, z: number): FormAtHeight {
  const read = (name: LawName): [number, number] => {
    evaluate(blade, name, z, pair);
    return [pair[0], pair[1]];
  };
  const [centres, centresRate] = read('centres');
  const [turning, turningRate] = read('turning');
  const [angle, angleRate] = read('angle');
  const [thickness, thicknessRate] = read('thickness');
  const [leading, leadingRate] = read('leading');
  const [trailing, trailingRate] = read('trailing');
  const [x, xRate] = read('x');
  const [y, yRate] = read('y');
  const half = turning / 2;
  const arcRadius = centres / (2 * Math.sin(half));
  const arcRate = centresRate / (2 * Math.sin(half)) - (arcRadius * turningRate) / (2 * Math.tan(half));
  let offset = 0;
  let offsetRate = 0;
  if (blade.fillet !== null) {
    const below = blade.fillet.from + blade.fillet.radius - z;
    if (below > 0) {
      const width = Math.sqrt(Math.max(blade.fillet.radius ** 2 - below * below, 1e-12));
      offset = blade.fillet.radius - width;
      offsetRate = -below / width;
    }
  }
  const { ratio, peak } = blade;
  const most = thickness / 2;
  return {
    form: { arcRadius, turning, leading, trailing, most, offset, angle, x, y, ratio, peak },
    rate: {
      arcRadius: arcRate,
      turning: turningRate,
      leading: leadingRate,
      trailing: trailingRate,
      most: thicknessRate / 2,
      offset: offsetRate,
      angle: angleRate,
      x: xRate,
      y: yRate,
    },
  };
}

/**
 * Surface point and outward unit normal at a place, written to `out[0…6]`: x, y, z, nx, ny, nz and the area (mm²) per
 * unit of `t` and height.
 */
export function surfacePoint(at: FormAtHeight, piece: Piece, t: number, z: number, out: Float64Array): void {
  const { form } = at;
  localPoint(form, piece, t, out);
  const rate = outwardRate(form, at.rate, piece, t, out);
  const cos = Math.cos(form.angle);
  const sin = Math.sin(form.angle);
  const [x, y, nx, ny, speed] = out;
  const stretch = Math.sqrt(1 + rate * rate);
  out[0] = form.x + cos * x - sin * y;
  out[1] = form.y + sin * x + cos * y;
  out[2] = z;
  out[3] = (cos * nx - sin * ny) / stretch;
  out[4] = (sin * nx + cos * ny) / stretch;
  out[5] = -rate / stretch;
  out[6] = speed * stretch;
}

/**
 * In-plane signed distance of a point to the section at its own height, its gradient and the foot, written to
 * `out[0…5]`: distance, d/dx, d/dy, d/dz, piece, t. Zero on the surface.
 */
export function sectionDistance(blade: BladeLaw, x: number, y: number, z: number, out: Float64Array): void {
  const { form, rate } = formAt(blade, z);
  const cos = Math.cos(form.angle);
  const sin = Math.sin(form.angle);
  const dx = x - form.x;
  const dy = y - form.y;
  localDistance(form, cos * dx + sin * dy, cos * dy - sin * dx, out);
  const distance = out[0];
  const piece = out[1] as Piece;
  const t = out[2];
  localPoint(form, piece, t, local);
  const [nx, ny] = [local[2], local[3]];
  out[0] = distance;
  out[1] = cos * nx - sin * ny;
  out[2] = sin * nx + cos * ny;
  out[3] = -outwardRate(form, rate, piece, t, local);
  out[4] = piece;
  out[5] = t;
}

const local = new Float64Array(5);
