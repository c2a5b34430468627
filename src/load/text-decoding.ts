/** Turns the bytes of a text file into UTF-8 without byte-order mark, piece by piece. */
export interface TextDecoding {
  decode(chunk: Uint8Array): Uint8Array;
  /** Returns what is left when the file has ended. */
  flush(): Uint8Array;
}

const NOTHING = new Uint8Array(0);

/** Returns the decoding that the byte-order mark asks for; null when the file has none. */
export function decodingOf(head: Uint8Array): TextDecoding | null {
  const [a, b, c] = head;
  if (a === 0xef && b === 0xbb && c === 0xbf) {
    let skip = 3;
    return {
      decode(chunk) {
        const cut = Math.min(skip, chunk.length);
        skip -= cut;
        return chunk.subarray(cut);
      },
      flush: () => NOTHING,
    };
  }
  const label = a === 0xff && b === 0xfe ? 'utf-16le' : a === 0xfe && b === 0xff ? 'utf-16be' : null;
  if (label === null) return null;
  const decoder = new TextDecoder(label);
  const encoder = new TextEncoder();
  return {
    decode: (chunk) => encoder.encode(decoder.decode(chunk, { stream: true })),
    flush: () => encoder.encode(decoder.decode()),
  };
}
