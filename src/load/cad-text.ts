import type { CadContent } from './cad-content.ts';
import { sectionsOfCad } from './cad-sections.ts';
import type { ByteSink, FormatInput } from './format.ts';
import { tooLarge } from './stores.ts';

/** Longest text taken in (bytes); strings end a little above. */
const LONGEST = 500_000_000;

/** Returns a sink that keeps a CAD file's text whole and reads its content at the end. */
export function cadTextSink(input: FormatInput, contentOf: (text: string) => CadContent): ByteSink {
  const decoder = new TextDecoder();
  const pieces: string[] = [];
  let bytes = 0;
  return {
    push(chunk) {
      bytes += chunk.length;
      if (bytes > LONGEST) throw tooLarge(input, bytes / 80);
      pieces.push(decoder.decode(chunk, { stream: true }));
    },
    end() {
      pieces.push(decoder.decode());
      return sectionsOfCad(input, contentOf(pieces.join('')));
    },
  };
}
