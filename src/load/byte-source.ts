/** A file or buffer to be read once, from front to back. A chunk must stay unchanged after it was handed out. */
export interface ByteSource {
  /** Name for messages, without path. */
  name: string;
  /** Number of bytes, null when unknown. */
  size: number | null;
  chunks(): AsyncIterable<Uint8Array>;
}

/** The part of a browser's file object that is needed here. */
export interface StreamableBlob {
  size: number;
  stream(): { getReader(): { read(): Promise<{ done: boolean; value?: Uint8Array | undefined }>; cancel(): unknown } };
}

const CHUNK = 1 << 20;

/** Returns a source over bytes in memory, handed out in pieces of `chunk` bytes without copying. */
export function sourceFromBytes(name: string, bytes: Uint8Array, chunk = CHUNK): ByteSource {
  return {
    name,
    size: bytes.length,
    async *chunks() {
      for (let at = 0; at < bytes.length; at += chunk) yield bytes.subarray(at, Math.min(bytes.length, at + chunk));
    },
  };
}

/** Returns a source over a file object, streamed; the stream is cancelled when reading stops early. */
export function sourceFromBlob(name: string, blob: StreamableBlob): ByteSource {
  return {
    name,
    size: blob.size,
    async *chunks() {
      const reader = blob.stream().getReader();
      try {
        for (;;) {
          const { done, value } = await reader.read();
          if (done) return;
          if (value !== undefined) yield value;
        }
      } finally {
        await reader.cancel();
      }
    },
  };
}
