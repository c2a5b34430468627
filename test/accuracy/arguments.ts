import type { Part } from './part.ts';

export interface Wanted {
  wanted: { name: string; count: number }[];
  readme: boolean;
}

/**
 * Returns the parts named, each with the count behind its name or its own; all parts where none is named.
 * @throws Error for a word that is neither a part nor the count of one
 */
export function readArguments(words: readonly string[], parts: Record<string, Part>): Wanted {
  const wanted: Wanted['wanted'] = [];
  let readme = false;
  for (const word of words) {
    const last = wanted[wanted.length - 1];
    if (word === '--readme') readme = true;
    else if (Object.hasOwn(parts, word)) wanted.push({ name: word, count: parts[word].count });
    else if (last && /^[1-9]\d*$/.test(word)) last.count = Number(word);
    else throw new Error(`"${word}" is no part: use ${Object.keys(parts).join(', ')}, each with a count, or --readme.`);
  }
  const all = () => Object.entries(parts).map(([name, { count }]) => ({ name, count }));
  return { wanted: wanted.length > 0 ? wanted : all(), readme };
}
