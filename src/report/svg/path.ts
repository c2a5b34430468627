/** Number for a path: two decimals, no trailing zeros, no minus zero. */
export function px(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/**
 * Path data of a line through points; a null or non-finite ordinate lifts the pen, so gaps stay open.
 * @param x, y picture coordinates (px)
 */
export function linePath(x: readonly number[], y: readonly (number | null)[], closed = false): string {
  let path = '';
  let down = false;
  for (let i = 0; i < x.length; i++) {
    const yi = y[i];
    if (yi === null || !Number.isFinite(yi) || !Number.isFinite(x[i])) {
      down = false;
      continue;
    }
    path += `${down ? 'L' : 'M'}${px(x[i])} ${px(yi)}`;
    down = true;
  }
  return closed && path !== '' ? `${path}Z` : path;
}

/** Path data of the area between two lines over the same abscissas, one closed piece a run of present values. */
export function bandPath(
  x: readonly number[],
  low: readonly (number | null)[],
  high: readonly (number | null)[],
  x2: readonly number[] = x,
): string {
  let path = '';
  const run: number[] = [];
  const close = () => {
    if (run.length > 1) {
      const there = run.map((i, k) => `${k ? 'L' : 'M'}${px(x[i])} ${px(low[i]!)}`).join('');
      const back = [...run].reverse().map((i) => `L${px(x2[i])} ${px(high[i]!)}`);
      path += `${there}${back.join('')}Z`;
    }
    run.length = 0;
  };
  for (let i = 0; i < x.length; i++) {
    if (low[i] === null || high[i] === null) close();
    else run.push(i);
  }
  close();
  return path;
}

/** Text made safe for XML and HTML, attribute values included. */
export function escapeXml(text: string): string {
  return text
    .replace(/[^\P{Cc}\t\n\r]|\p{Noncharacter_Code_Point}|\p{Cs}/gu, '\ufffd')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}
