/** What a part of the lane leaves: lines to print, promises broken, and the table that goes into the README. */
export interface Outcome {
  lines: string[];
  broken: string[];
  summary: Summary;
}

export interface Summary {
  /** One sentence above the table. */
  title: string;
  head: string[];
  rows: string[][];
}

/** A named part: how many motions, seeds or resamplings it takes unless told, and what it does. */
export interface Part {
  count: number;
  /** What the count counts. */
  of: string;
  run: (count: number) => Promise<Outcome>;
}
