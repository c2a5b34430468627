/** Closed-form section contours for tests: points counter-clockwise and the exact signed distance of any near point. */

export interface TestSection {
  name: string;
  /** Smooth stretches in counter-clockwise order; each maps [0, 1] to a point. Stretches meet at corners or joints. */
  stretches: ((f: number) => [number, number])[];
  /** Number of stretches whose start is a corner, by index. */
  corners: number[];
  /** Signed distance (mm), positive outside, exact for points near the contour. */
  distance: (x: number, y: number) => number;
}

/** Returns about `count` points at equal steps of arc length in each stretch (its start included, its end left out). */
export function sectionPoints(section: TestSection, count: number): Float64Array {
  const lengths = section.stretches.map((stretch) => stretchTable(stretch));
  const total = lengths.reduce((sum, table) => sum + table[table.length - 1], 0);
  const points: number[] = [];
  section.stretches.forEach((stretch, s) => {
    const table = lengths[s];
    const n = Math.max(2, Math.round((count * table[table.length - 1]) / total));
    for (let i = 0; i < n; i++) points.push(...stretch(fractionAt(table, i / n)));
  });
  return Float64Array.from(points);
}

/** Index of each corner in the points that `sectionPoints` returns for the same count. */
export function sectionCorners(section: TestSection, count: number): number[] {
  const lengths = section.stretches.map((stretch) => stretchTable(stretch).at(-1) as number);
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const starts: number[] = [];
  let at = 0;
  for (const length of lengths) {
    starts.push(at);
    at += Math.max(2, Math.round((count * length) / total));
  }
  return section.corners.map((s) => starts[s]);
}

const TABLE = 20000;

function stretchTable(stretch: (f: number) => [number, number]): Float64Array {
  const table = new Float64Array(TABLE + 1);
  let [x, y] = stretch(0);
  for (let i = 1; i <= TABLE; i++) {
    const [nx, ny] = stretch(i / TABLE);
    table[i] = table[i - 1] + Math.hypot(nx - x, ny - y);
    x = nx;
    y = ny;
  }
  return table;
}

function fractionAt(table: Float64Array, share: number): number {
  const wanted = share * table[TABLE];
  let low = 0;
  let high = TABLE;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (table[middle] <= wanted) low = middle;
    else high = middle;
  }
  return (low + (wanted - table[low]) / (table[low + 1] - table[low])) / TABLE;
}

/** Smallest of `f` on [a, b] by coarse search and golden section. */
function least(f: (s: number) => number, a: number, b: number, coarse = 60): number {
  let best = a;
  for (let i = 1; i <= coarse; i++) {
    const s = a + ((b - a) * i) / coarse;
    if (f(s) < f(best)) best = s;
  }
  let low = Math.max(a, best - (b - a) / coarse);
  let high = Math.min(b, best + (b - a) / coarse);
  const ratio = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < 60; i++) {
    const c = high - ratio * (high - low);
    const d = low + ratio * (high - low);
    if (f(c) < f(d)) high = d;
    else low = c;
  }
  return f((low + high) / 2);
}

/** Distance of a point from a parametric curve; a plain slow search. */
function distanceTo(stretch: (f: number) => [number, number], x: number, y: number): number {
  return least(
    (f) => {
      const [px, py] = stretch(f);
      return Math.hypot(px - x, py - y);
    },
    0,
    1,
    400,
  );
}

export function circleSection(radius: number): TestSection {
  return {
    name: `circle R${radius}`,
    stretches: [(f) => [radius * Math.cos(2 * Math.PI * f), radius * Math.sin(2 * Math.PI * f)]],
    corners: [],
    distance: (x, y) => Math.hypot(x, y) - radius,
  };
}

export function ellipseSection(a: number, b: number): TestSection {
  const at = (f: number): [number, number] => [a * Math.cos(2 * Math.PI * f), b * Math.sin(2 * Math.PI * f)];
  return {
    name: `ellipse ${a} x ${b}`,
    stretches: [at],
    corners: [],
    distance: (x, y) => ((x * x) / (a * a) + (y * y) / (b * b) > 1 ? distanceTo(at, x, y) : -distanceTo(at, x, y)),
  };
}

/** Plate of length 2 (flat + a), half thickness b, ends half ellipses with semi-axis a along the plate. */
export function plateSection(length: number, a: number, b: number): TestSection {
  const flat = length / 2 - a;
  const cap =
    (from: number, side: number) =>
    (f: number): [number, number] => {
      const angle = from + Math.PI * f;
      return [side * flat + a * Math.cos(angle), b * Math.sin(angle)];
    };
  const right = cap(-Math.PI / 2, 1);
  return {
    name: `plate ${length} with ${a} x ${b} ends`,
    stretches: [(f) => [-flat + 2 * flat * f, -b], right, (f) => [flat - 2 * flat * f, b], cap(Math.PI / 2, -1)],
    corners: [],
    distance: (x, y) => {
      const beyond = Math.abs(x) - flat;
      if (beyond <= 0) return Math.abs(y) - b;
      if (a === b) return Math.hypot(beyond, y) - b;
      const d = distanceTo(right, flat + beyond, y);
      return (beyond / a) ** 2 + (y / b) ** 2 > 1 ? d : -d;
    },
  };
}

/** Envelope of discs along a circular camber arc: R = 50, turning 40 degrees, r = r0 + r1 u + r2 u². */
export function discSection(r0 = 0.5, r1 = 5, r2 = -5.2): TestSection {
  const R = 50;
  const half = (20 * Math.PI) / 180;
  const S = 2 * half * R;
  const centre = (s: number): [number, number] => [
    R * Math.sin(s / R - half),
    R * (Math.cos(s / R - half) - Math.cos(half)),
  ];
  const radius = (s: number) => r0 + (r1 * s) / S + r2 * (s / S) ** 2;
  const slope = (s: number) => r1 / S + (2 * r2 * s) / (S * S);
  const side = (s: number, sign: number): [number, number] => {
    const angle = s / R - half;
    const tx = Math.cos(angle);
    const ty = -Math.sin(angle);
    const along = -slope(s);
    const across = sign * Math.sqrt(1 - slope(s) ** 2);
    const [cx, cy] = centre(s);
    return [cx + radius(s) * (along * tx - across * ty), cy + radius(s) * (along * ty + across * tx)];
  };
  const cap = (s: number, sign: number) => {
    const [cx, cy] = centre(s);
    const [fx, fy] = side(s, sign);
    const [lx, ly] = side(s, -sign);
    const from = Math.atan2(fy - cy, fx - cx);
    let sweep = Math.atan2(ly - cy, lx - cx) - from;
    while (sweep < 0) sweep += 2 * Math.PI;
    return (f: number): [number, number] => [
      cx + radius(s) * Math.cos(from + sweep * f),
      cy + radius(s) * Math.sin(from + sweep * f),
    ];
  };
  return {
    name: 'disc envelope',
    stretches: [(f) => side(S * f, -1), cap(S, -1), (f) => side(S * (1 - f), 1), cap(0, 1)],
    corners: [],
    distance: (x, y) =>
      least(
        (s) => {
          const [cx, cy] = centre(s);
          return Math.hypot(x - cx, y - cy) - radius(s);
        },
        0,
        S,
      ),
  };
}

/** NACA 4-digit symmetric section with closed trailing edge; one corner, at the trailing edge (x = chord). */
export function nacaSection(thickness: number, chord = 1): TestSection {
  const half = (x: number) =>
    5 * thickness * (0.2969 * Math.sqrt(x) - 0.126 * x - 0.3516 * x ** 2 + 0.2843 * x ** 3 - 0.1036 * x ** 4);
  const at = (f: number): [number, number] => {
    const angle = 2 * Math.PI * f;
    const x = 0.5 * (1 + Math.cos(angle));
    return [chord * x, chord * Math.sign(Math.sin(angle)) * half(Math.max(0, x))];
  };
  return {
    name: 'NACA 4-digit',
    stretches: [at],
    corners: [0],
    distance: (x, y) => {
      const d = distanceTo(at, x, y);
      return Math.abs(y) > chord * half(Math.min(1, Math.max(0, x / chord))) || x < 0 || x > chord ? d : -d;
    },
  };
}

/** Joukowski section of the circle with radius 1 + e centred at −e; cusp at (2, 0). */
export function joukowskiSection(e = 0.1): TestSection {
  const at = (f: number): [number, number] => {
    const u = -e + (1 + e) * Math.cos(2 * Math.PI * f);
    const v = (1 + e) * Math.sin(2 * Math.PI * f);
    const q = u * u + v * v;
    return [u + u / q, v - v / q];
  };
  return { name: 'Joukowski', stretches: [at], corners: [0], distance: (x, y) => distanceTo(at, x, y) };
}

/** Wedge-like section: blunt tip of the disc envelope cut flat near its trailing edge (two corners). */
export function flatBackSection(length = 30, nose = 1, tail = 0.5): TestSection {
  const slope = (nose - tail) / length;
  const angle = Math.asin((nose - tail) / length);
  const tx = -nose * -Math.sin(angle);
  const ty = nose * Math.cos(angle);
  const end = ty - Math.tan(angle) * (length - tx);
  const round = (f: number): [number, number] => {
    const from = Math.PI / 2 - angle;
    const sweep = Math.PI + 2 * angle;
    return [nose * Math.cos(from + sweep * f), nose * Math.sin(from + sweep * f)];
  };
  return {
    name: `flat back, slope ${slope}`,
    stretches: [
      (f) => [tx + (length - tx) * f, -ty + (ty - end) * f],
      (f) => [length, -end + 2 * end * f],
      (f) => [length + (tx - length) * f, end + (ty - end) * f],
      round,
    ],
    corners: [1, 2],
    distance: (x, y) => {
      const lower = (Math.abs(y) - ty) * Math.cos(angle) + (x - tx) * Math.sin(angle);
      const back = x - length;
      if (x * Math.cos(angle) < Math.abs(y) * Math.sin(angle)) return Math.hypot(x, y) - nose;
      if (lower > 0 && back > 0) return Math.hypot(back, Math.abs(y) - end);
      return Math.max(lower, back);
    },
  };
}
