import {
  arcLength,
  edgeHalfAngle,
  type FormRate,
  LEADING,
  type Piece,
  PRESSURE,
  radiusAt,
  radiusRate,
  type SectionForm,
  SUCTION,
  TRAILING,
} from './section-form.ts';

const law = new Float64Array(3);

/**
 * Point, outward unit normal and speed of the outline in the section's own frame, written to `out[0…4]` as x, y, nx,
 * ny, |d point / d t|. Disk-envelope identity: point = c + r n with n = −r′T ± √(1 − r′²) N, r′ by arc length.
 */
export function localPoint(form: SectionForm, piece: Piece, t: number, out: Float64Array): void {
  const { arcRadius, turning, ratio, offset } = form;
  if (piece === PRESSURE || piece === SUCTION) {
    const side = piece === SUCTION ? 1 : -1;
    const length = arcLength(form);
    radiusAt(form, t, law);
    const radius = law[0] + offset;
    const slope = law[1] / length;
    const across = Math.sqrt(1 - slope * slope);
    const angle = turning * (t - 0.5);
    const sin = Math.sin(angle);
    const cos = Math.cos(angle);
    out[2] = -slope * cos + side * across * sin;
    out[3] = slope * sin + side * across * cos;
    out[0] = arcRadius * sin + radius * out[2];
    out[1] = arcRadius * (cos - 1) + radius * out[3];
    out[4] = length * (across + radius * (side / arcRadius - law[2] / (length * length * across)));
    return;
  }
  const end = piece === LEADING ? -1 : 1;
  const b = piece === LEADING ? form.leading : form.trailing;
  const a = ratio * b;
  const half = edgeHalfAngle(form, piece);
  const sinT = Math.sin(half * t);
  const cosT = Math.cos(half * t);
  const sin = Math.sin((end * turning) / 2);
  const cos = Math.cos((end * turning) / 2);
  const size = Math.hypot(b * cosT, a * sinT);
  const nT = (end * b * cosT) / size;
  const nN = (-a * sinT) / size;
  const pT = end * a * cosT + offset * nT;
  const pN = -b * sinT + offset * nN;
  out[0] = arcRadius * sin + pT * cos + pN * sin;
  out[1] = arcRadius * (cos - 1) - pT * sin + pN * cos;
  out[2] = nT * cos + nN * sin;
  out[3] = -nT * sin + nN * cos;
  out[4] = half * (Math.hypot(a * sinT, b * cosT) + (offset * a * b) / (size * size));
}

/** As `localPoint`, in blade coordinates. */
export function outlinePoint(form: SectionForm, piece: Piece, t: number, out: Float64Array): void {
  localPoint(form, piece, t, out);
  const cos = Math.cos(form.angle);
  const sin = Math.sin(form.angle);
  const [x, y, nx, ny] = out;
  out[0] = form.x + cos * x - sin * y;
  out[1] = form.y + sin * x + cos * y;
  out[2] = cos * nx - sin * ny;
  out[3] = sin * nx + cos * ny;
}

/**
 * Speed at which the outline moves along its own outward normal per millimetre of height (envelope theorem: the part
 * along the line of centres drops out). The surface normal is (nx, ny, −speed) normalised.
 * `local` holds what `localPoint` wrote for the same place.
 */
export function outwardRate(form: SectionForm, rate: FormRate, piece: Piece, t: number, local: Float64Array): number {
  const [x, y, nx, ny] = local;
  const flank = piece === PRESSURE || piece === SUCTION;
  const fraction = flank ? t - 0.5 : piece === LEADING ? -0.5 : 0.5;
  const angle = form.turning * fraction;
  const angleRate = rate.turning * fraction;
  const sin = Math.sin(angle);
  const cos = Math.cos(angle);
  const centreX = rate.arcRadius * sin + form.arcRadius * angleRate * cos;
  const centreY = rate.arcRadius * (cos - 1) - form.arcRadius * angleRate * sin;
  let speed = nx * centreX + ny * centreY + rate.offset;
  if (flank) {
    speed += radiusRate(form, rate, t);
  } else {
    const b = piece === LEADING ? form.leading : form.trailing;
    const bRate = piece === LEADING ? rate.leading : rate.trailing;
    const nT = nx * cos - ny * sin;
    const nN = nx * sin + ny * cos;
    // The edge's own point grows in proportion to b, and turns with the end of the arc.
    const pT = x * cos - (y + form.arcRadius) * sin - form.offset * nT;
    const pN = x * sin + (y + form.arcRadius) * cos - form.arcRadius - form.offset * nN;
    speed += (bRate / b) * (nT * pT + nN * pN) + angleRate * (nT * pN - nN * pT);
  }
  speed += rate.angle * (ny * x - nx * y);
  const cosP = Math.cos(form.angle);
  const sinP = Math.sin(form.angle);
  return speed + rate.x * (cosP * nx - sinP * ny) + rate.y * (sinP * nx + cosP * ny);
}

/** Parameter of the ellipse's point next to (x, y), x ≥ 0: the one root in the point's quadrant, bracketed Newton. */
function ellipseFoot(a: number, b: number, x: number, y: number): number {
  const focal = a * a - b * b;
  const height = Math.abs(y);
  let low = 0;
  let high = Math.PI / 2;
  let angle = Math.atan2(a * height, b * x);
  for (let i = 0; i < 100; i++) {
    const sin = Math.sin(angle);
    const cos = Math.cos(angle);
    const value = a * x * sin - b * height * cos - focal * sin * cos;
    if (value > 0) high = angle;
    else low = angle;
    const next = angle - value / (a * x * cos + b * height * sin - focal * (cos * cos - sin * sin));
    const last = angle;
    angle = next >= low && next <= high ? next : (low + high) / 2;
    if (Math.abs(angle - last) < 1e-15) break;
  }
  return y < 0 ? -angle : angle;
}

/** Fraction of the arc whose disk touches the outline at the foot of the polar point (rho, bearing), by Newton. */
function flankFoot(form: SectionForm, rho: number, bearing: number): number {
  const length = arcLength(form);
  const { arcRadius, turning } = form;
  let v = Math.min(1, Math.max(0, bearing / turning + 0.5));
  for (let i = 0; i < 50; i++) {
    const lag = bearing - turning * (v - 0.5);
    const sin = Math.sin(lag);
    const reach = Math.sqrt((rho - arcRadius) ** 2 + 4 * rho * arcRadius * Math.sin(lag / 2) ** 2);
    radiusAt(form, v, law);
    const value = rho * sin + (law[1] / length) * reach;
    const slope =
      -rho * Math.cos(lag) * turning +
      (law[2] / length) * reach -
      ((law[1] / length) * rho * arcRadius * sin * turning) / reach;
    const next = Math.min(1, Math.max(0, v - value / slope));
    const step = next - v;
    v = next;
    if (Math.abs(step) < 1e-15) break;
  }
  return v;
}

/**
 * Signed distance (outside positive) of a point in the section's own frame, with the foot's piece and parameter,
 * written to `out[0…2]`. Exact for points whose nearest outline point is unique.
 */
export function localDistance(form: SectionForm, x: number, y: number, out: Float64Array): void {
  const { arcRadius, turning, ratio, offset } = form;
  for (const piece of [LEADING, TRAILING] as const) {
    const end = piece === LEADING ? -1 : 1;
    const sin = Math.sin((end * turning) / 2);
    const cos = Math.cos((end * turning) / 2);
    const dx = x - arcRadius * sin;
    const dy = y - arcRadius * (cos - 1);
    const ahead = end * (dx * cos - dy * sin);
    const across = -(dx * sin + dy * cos);
    const half = edgeHalfAngle(form, piece);
    if (ahead < Math.cos(half) * Math.hypot(ahead, across)) continue;
    const b = piece === LEADING ? form.leading : form.trailing;
    out[1] = piece;
    if (ratio === 1) {
      out[0] = Math.hypot(ahead, across) - b - offset;
      out[2] = Math.atan2(across, ahead) / half;
    } else {
      const a = ratio * b;
      const angle = ellipseFoot(a, b, ahead, across);
      const nx = b * Math.cos(angle);
      const ny = a * Math.sin(angle);
      const gap = (ahead - a * Math.cos(angle)) * nx + (across - b * Math.sin(angle)) * ny;
      out[0] = gap / Math.hypot(nx, ny) - offset;
      out[2] = angle / half;
    }
    return;
  }
  const rho = Math.hypot(x, y + arcRadius);
  const bearing = Math.atan2(x, y + arcRadius);
  const v = flankFoot(form, rho, bearing);
  const lag = bearing - turning * (v - 0.5);
  const reach = Math.sqrt((rho - arcRadius) ** 2 + 4 * rho * arcRadius * Math.sin(lag / 2) ** 2);
  radiusAt(form, v, law);
  out[0] = reach - law[0] - offset;
  out[1] = rho >= arcRadius ? SUCTION : PRESSURE;
  out[2] = v;
}
