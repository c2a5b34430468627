/** Where a text stops being JSON, and what was wanted there. */
export interface JsonFault {
  line: number;
  column: number;
  wanted: string;
  found: string;
}

/**
 * Finds the first place where a text breaks the JSON grammar (RFC 8259); null when it is JSON. Own scanner, because the
 * engines word and place their errors differently.
 */
export function jsonFault(text: string): JsonFault | null {
  let at = 0;
  const fault = (wanted: string): never => {
    throw { wanted } satisfies { wanted: string };
  };
  const skip = () => {
    while (' \t\n\r'.includes(text[at] ?? 'x')) at++;
  };
  const take = (sticky: RegExp, wanted: string) => {
    sticky.lastIndex = at;
    const match = sticky.exec(text);
    if (!match) return fault(wanted);
    at += match[0].length;
  };
  const string = () => {
    take(/"/y, 'a text in double quotes');
    take(/(?:[^"\\\p{Cc}]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})|[\u007f-\u009f])*/uy, 'a text');
    take(/"/y, 'a closing double quote (or a valid escape)');
  };
  const list = (close: string, item: () => void) => {
    at++;
    skip();
    if (text[at] === close) {
      at++;
      return;
    }
    for (;;) {
      item();
      skip();
      if (text[at] === close) break;
      if (text[at] !== ',') fault(`',' or '${close}'`);
      at++;
      skip();
    }
    at++;
  };
  const value = () => {
    skip();
    const first = text[at];
    if (first === '{')
      list('}', () => {
        string();
        skip();
        take(/:/y, "':' after the key");
        value();
      });
    else if (first === '[') list(']', value);
    else if (first === '"') string();
    else if (first !== undefined && '-0123456789'.includes(first))
      take(/-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y, 'a number');
    else take(/true|false|null/y, 'a value');
  };
  try {
    value();
    skip();
    if (at < text.length) fault('the end of the file');
    return null;
  } catch (error) {
    if (error instanceof Error) throw error;
    const before = text.slice(0, at).split('\n');
    const found = at < text.length ? `'${text[at]}'` : 'the end of the file';
    return {
      line: before.length,
      column: before.at(-1)!.length + 1,
      wanted: (error as { wanted: string }).wanted,
      found,
    };
  }
}
