import { createFields, fieldNumber, firstIs, notANumber, splitBlank } from './fields.ts';
import { finishMesh } from './finish-mesh.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape } from './format.ts';
import { lineFeeder } from './lines.ts';
import { textOf } from './numbers.ts';
import { headLines, looksLikeText } from './sniff.ts';
import { indexStore, pushTriangle } from './stores.ts';
import { noteUnitText, type UnitNote } from './units.ts';
import { createWelder } from './weld.ts';

function sniff(head: Uint8Array, size: number | null): boolean {
  if (!looksLikeText(head)) return false;
  const lines = headLines(head, true).filter((line) => line.trim() !== '');
  if (!/^\s*solid(\s|$)/i.test(lines[0] ?? '')) return false;
  return size === head.length || lines.some((line) => /^\s*(facet|endsolid)/i.test(line));
}

function parse(input: FormatInput): ByteSink {
  const fields = createFields();
  const note: UnitNote = { unit: null };
  const welder = createWelder(input, 1024);
  const triangles = indexStore(3072);
  const corners = [0, 0, 0];
  let seen = -1;
  let found = 0;
  let lastLine = 0;
  let closed = false;
  let ended = false;

  function coordinate(bytes: Uint8Array, field: number, line: number): number {
    const value = fieldNumber(input, bytes, fields, field, line);
    if (value - value === 0) return value;
    throw notANumber(input, textOf(bytes, fields.from[field], fields.to[field]), line, field + 1);
  }

  function wrong(message: string, line: number, code: `load/${string}` = 'load/format-unknown'): Error {
    return loadError(input, code, message, `line ${line}`, 'Export the mesh again as STL.');
  }

  function vertex(bytes: Uint8Array, line: number): void {
    if (fields.count !== 4)
      throw wrong(`A vertex needs 3 numbers; ${fields.count - 1} were found.`, line, 'load/column-count');
    if (seen < 0) throw wrong('A vertex stands outside a facet.', line);
    if (seen === 3) throw wrong('A facet has more than 3 vertices.', line, 'load/column-count');
    const x = coordinate(bytes, 1, line);
    const y = coordinate(bytes, 2, line);
    corners[seen++] = welder.vertex(x, y, coordinate(bytes, 3, line));
  }

  function endFacet(line: number): void {
    if (seen !== 3) throw wrong(`A facet has ${Math.max(seen, 0)} vertices instead of 3.`, line, 'load/column-count');
    pushTriangle(triangles, corners[0], corners[1], corners[2], input);
    found++;
    seen = -1;
  }

  const feeder = lineFeeder(input, (bytes, from, to, line) => {
    splitBlank(bytes, from, to, fields);
    if (fields.count === 0) return;
    lastLine = line;
    // A last line without line end may be cut: only the closing word counts.
    if (ended && !firstIs(bytes, fields, 'endsolid')) return;
    if (firstIs(bytes, fields, 'vertex')) vertex(bytes, line);
    else if (firstIs(bytes, fields, 'facet')) {
      if (seen >= 0) throw wrong('A facet begins before the one before has ended.', line);
      seen = 0;
    } else if (firstIs(bytes, fields, 'endfacet')) endFacet(line);
    else if (firstIs(bytes, fields, 'solid')) {
      closed = false;
      noteUnitText(input, note, textOf(bytes, fields.to[0], to), `line ${line}`);
    } else if (firstIs(bytes, fields, 'endsolid')) closed = true;
    else if (!firstIs(bytes, fields, 'outer') && !firstIs(bytes, fields, 'endloop')) {
      throw wrong(`"${textOf(bytes, from, Math.min(to, from + 40)).trim()}" is no line of an STL text file.`, line);
    }
  });

  function end(): ParsedShape {
    ended = true;
    feeder.end();
    if (!closed || seen >= 0) {
      const message = `The file ends before "endsolid"; ${found} whole triangles were found.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, `line ${lastLine}`, remedy);
    }
    const shape = finishMesh(input, welder.positions, triangles);
    return { shape, unit: note.unit, points: shape.positions.length / 3, triangles: found };
  }

  return { push: feeder.push, end };
}

export const stlText: Format = { id: 'stl-text', words: 'triangle mesh, STL text (.stl)', sniff, parse };
