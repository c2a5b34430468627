import { describe, expect, it } from 'vitest';
import { drawingOf } from '../../../components/drawings/drawing-of.ts';
import { definitionsByPath } from '../../../src/judge/definitions-by-path.ts';

const byOf = definitionsByPath();
const text = (id: string, of: string): string => JSON.stringify(drawingOf(id, of));

describe('drawings of definitions', () => {
  it.each(Object.keys(byOf))('%s: every definition has one', (of) => {
    for (const { id } of byOf[of]) expect(drawingOf(id, of), `${id} of ${of}`).not.toBeNull();
  });

  it.each(Object.keys(byOf))('%s: no two definitions look the same', (of) => {
    const drawn = byOf[of].map(({ id }) => text(id, of));
    expect(new Set(drawn).size).toBe(drawn.length);
  });
});
