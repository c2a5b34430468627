import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { CamberwrightError } from '../error.ts';
import { breathe, type RunContext, throwIfCancelled } from '../model/context.ts';
import type { LoadedShape } from '../model/shape.ts';
import type { ByteSource } from './byte-source.ts';
import { boxOf, checkPlausible, chooseUnit, toMillimetres } from './finish-shape.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ReadOptions } from './format.ts';
import { probeStatement } from './probe-note.ts';
import { acceptedFormats, FORMATS } from './registry.ts';
import { stlBinary } from './stl-binary.ts';
import { decodingOf } from './text-decoding.ts';

/** Bytes a format is recognised by. */
const HEAD = 65536;
/** Time between two reports of progress (ms). */
const REPORT_EVERY = 50;

/** A file whose format is known and whose bytes go to its parser. */
interface Opened extends ByteSink {
  format: Format;
  input: FormatInput;
}

function firstBytes(chunks: Uint8Array[], most: number): Uint8Array {
  const length = chunks.reduce((sum, chunk) => sum + chunk.length, 0);
  const head = new Uint8Array(Math.min(length, most));
  let at = 0;
  for (const chunk of chunks) {
    const part = chunk.subarray(0, head.length - at);
    head.set(part, at);
    at += part.length;
  }
  return head;
}

/** Finds the format by the first bytes; `complete` says they are all. @throws `load/format-unknown` */
function open(source: ByteSource, chunks: Uint8Array[], complete: boolean, options: ReadOptions): Opened {
  const raw = firstBytes(chunks, HEAD);
  const whole = complete && chunks.reduce((sum, chunk) => sum + chunk.length, 0) === raw.length;
  const size = whole ? raw.length : source.size;
  const decoding = stlBinary.sniff(raw, size) ? null : decodingOf(raw);
  const preview = decodingOf(raw);
  const head = decoding === null || preview === null ? raw : preview.decode(raw);
  const format = FORMATS.find((candidate) => candidate.sniff(head, whole ? head.length : size));
  if (format === undefined) {
    const message = 'The content is none of the formats that can be read.';
    const remedy = `Choose one of: ${acceptedFormats.join('; ')}.`;
    throw loadError(source, 'load/format-unknown', message, 'byte 0', remedy);
  }
  const input: FormatInput = { name: source.name, size, head, complete: whole, options, warnings: [] };
  const sink = format.parse(input);
  if (decoding === null) return { format, input, ...sink };
  return {
    format,
    input,
    push: (chunk) => sink.push(decoding.decode(chunk)),
    end: () => {
      sink.push(decoding.flush());
      return sink.end();
    },
  };
}

/** Turns a failed allocation and a failed read into errors that say what to do; passes on all others. */
function explain(source: ByteSource, error: unknown): unknown {
  if (error instanceof CamberwrightError) return error;
  if (error instanceof RangeError && /alloc|array length|buffer/i.test(error.message)) {
    const remedy = 'Thin the scan, cut it to the blade, or close other work.';
    return loadError(source, 'load/too-large', 'There is not enough memory for the file.', null, remedy);
  }
  return error;
}

/** Hands on the bytes of the source; a failure of the source itself becomes `load/unreadable`. */
async function* readable(source: ByteSource): AsyncGenerator<Uint8Array> {
  const iterator = source.chunks()[Symbol.asyncIterator]();
  try {
    for (;;) {
      let step: IteratorResult<Uint8Array>;
      try {
        step = await iterator.next();
      } catch (cause) {
        if (cause instanceof CamberwrightError) throw cause;
        const reason = cause instanceof Error ? cause.message : String(cause);
        const remedy = 'Check that the file still exists and may be read.';
        throw new CamberwrightError('load/unreadable', `The file could not be read: ${reason}`, {
          where: source.name,
          remedy,
          cause,
        });
      }
      if (step.done) return;
      yield step.value;
    }
  } finally {
    await iterator.return?.();
  }
}

/**
 * Reads a nominal or measured shape. The format is found by the content, never by the name; the bytes are parsed and
 * hashed (SHA-256) as they stream in; coordinates come back as doubles in mm.
 *
 * @param source file or bytes, read once
 * @param options unit and decimal mark where the file states none
 * @param context progress (step `read`, bytes) about every 50 ms, and cancel between pieces
 * @throws CamberwrightError `load/…` with file, line or byte, cause and remedy; `cancelled`
 */
export async function readShape(source: ByteSource, options: ReadOptions, context: RunContext): Promise<LoadedShape> {
  const hash = sha256.create();
  const total = source.size ?? 0;
  const pending: Uint8Array[] = [];
  let opened: Opened | null = null;
  let bytes = 0;
  let reported = performance.now();
  throwIfCancelled(context);
  try {
    for await (const chunk of readable(source)) {
      throwIfCancelled(context);
      hash.update(chunk);
      bytes += chunk.length;
      if (opened !== null) opened.push(chunk);
      else {
        pending.push(chunk);
        if (bytes >= HEAD) {
          opened = open(source, pending, false, options);
          for (const early of pending.splice(0)) opened.push(early);
        }
      }
      if (performance.now() - reported < REPORT_EVERY) continue;
      context.onProgress?.({ step: 'read', done: bytes, total: Math.max(total, bytes) });
      await breathe(context);
      reported = performance.now();
    }
    if (bytes === 0) {
      throw loadError(source, 'load/empty', 'The file is empty (0 bytes).', null, 'Choose a file with content.');
    }
    if (opened === null) {
      opened = open(source, pending, true, options);
      for (const early of pending) opened.push(early);
    }
    const parsed = opened.end();
    const unit = chooseUnit(opened.input, parsed.unit);
    toMillimetres(parsed.shape, unit);
    const box = boxOf(parsed.shape);
    checkPlausible(opened.input, box, unit);
    const probe = parsed.probe === undefined ? null : probeStatement(parsed.probe, unit);
    context.onProgress?.({ step: 'read', done: bytes, total: bytes });
    return {
      name: source.name,
      format: opened.format.id,
      unit,
      unitStated: parsed.unit !== null,
      sha256: bytesToHex(hash.digest()),
      bytes,
      shape: parsed.shape,
      box,
      points: parsed.points,
      triangles: parsed.triangles,
      ...(probe === null ? {} : { probe }),
      warnings: opened.input.warnings,
    };
  } catch (error) {
    throw explain(source, error);
  }
}
