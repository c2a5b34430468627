import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { CamberwrightError } from '../error.ts';
import type { ByteSource } from '../load/byte-source.ts';

const CHUNK = 1 << 20;

/**
 * Returns a source over a file on disk, streamed in pieces of 1 MiB and named without its folder.
 *
 * @throws `load/unreadable` when there is no such file or it is a folder
 */
export async function fileSource(path: string): Promise<ByteSource> {
  const found = await stat(path).catch((cause: NodeJS.ErrnoException) => {
    const missing = cause.code === 'ENOENT' || cause.code === 'ENOTDIR';
    const message = missing ? 'There is no such file.' : `The file could not be opened: ${cause.message}`;
    throw new CamberwrightError('load/unreadable', message, {
      where: path,
      remedy: missing ? 'Check the path and the spelling.' : 'Check that the file may be read.',
      cause,
    });
  });
  if (!found.isFile()) {
    throw new CamberwrightError('load/unreadable', 'This is not a file.', {
      where: path,
      remedy: 'Name the file itself, not its folder.',
    });
  }
  return {
    name: basename(path),
    size: found.size,
    chunks: () => createReadStream(path, { highWaterMark: CHUNK }),
  };
}

/** Returns the bytes of a source, all at once. */
export async function readBytes(source: ByteSource): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of source.chunks()) chunks.push(chunk);
  return Buffer.concat(chunks);
}
