import type { LoadedShape } from '../model/shape.ts';

/** A count with its noun, such as "1 file" or "2 files". */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** A length in mm as shown, without trailing zeros. */
function length(value: number): string {
  return String(Number(value.toFixed(3)));
}

/** What a shape file holds, as a record without its geometry. */
export function shapeRecord(loaded: LoadedShape): Record<string, unknown> {
  const { shape, ...rest } = loaded;
  const sections =
    shape.kind === 'sections'
      ? shape.sections.map(({ id, height, points }) => ({ id, height, points: points.length / 2 }))
      : undefined;
  return { kind: shape.kind, ...rest, ...(sections === undefined ? {} : { sections }) };
}

/** What a shape file holds, line by line. */
export function shapeLines(path: string, loaded: LoadedShape): string[] {
  const { shape, box, unit, unitStated } = loaded;
  const { min, max } = box;
  const size = max.map((high, axis) => length(high - min[axis]));
  const counts = [counted(loaded.points, 'point')];
  if (loaded.triangles > 0) counts.push(counted(loaded.triangles, 'triangle'));
  if (shape.kind === 'cloud' && shape.normals !== undefined) counts.push('with normals');
  const lines = [
    path,
    `  format    ${loaded.format} (${shape.kind === 'sections' ? 'section table' : shape.kind})`,
    `  unit      ${unit}, ${unitStated ? 'stated in the file' : 'not stated in the file'}`,
    `  counts    ${counts.join(', ')}`,
    `  size      ${size.join(' × ')} mm`,
    `  box       ${min.map(length).join(', ')} to ${max.map(length).join(', ')} mm`,
  ];
  if (shape.kind === 'sections') {
    const heights = shape.sections.map(({ height }) => height);
    const span = `${length(heights[0])} to ${length(heights[heights.length - 1])} mm`;
    lines.push(`  sections  ${counted(heights.length, 'section')}, heights ${span}`);
  }
  lines.push(`  sha256    ${loaded.sha256}`);
  return lines;
}
