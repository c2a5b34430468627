import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { CamberwrightError } from '../error.ts';
import { definitionsByPath } from '../judge/definitions-by-path.ts';
import { readPlan } from '../judge/read-plan.ts';
import type { KeptBlank } from '../kept-blank.ts';
import { sourceFromBlob } from '../load/byte-source.ts';
import { readShape } from '../load/read-shape.ts';
import type { RunContext } from '../model/context.ts';
import type { Plan } from '../model/plan.ts';
import type { LoadedShape, SectionTable } from '../model/shape.ts';
import { type InspectInput, inspect } from '../pipeline.ts';
import { type KeptInspection, measureOne, redefine } from '../redefine.ts';
import { createBrowserChunkPool } from './browser-chunk-pool.ts';
import { createDispatch, type Handlers } from './dispatch.ts';
import type {
  FileHandle,
  FromWorker,
  InspectRequest,
  PlanSummary,
  ShapeHandle,
  ShapeSummary,
  ToWorker,
} from './messages.ts';
import { nameFile } from './name-file.ts';
import { threadedFeet } from './threaded-feet.ts';

/** The part of the worker's global object that is used; the core is compiled without the DOM library. */
interface WorkerScope {
  onmessage: ((event: { data: ToWorker }) => void) | null;
  postMessage(message: FromWorker, transfer: ArrayBuffer[]): void;
}

interface PlanFile {
  name: string;
  sha256: string;
  plan: Plan;
}

const scope = globalThis as unknown as WorkerScope;

/** Feet are found on threads of their own; they start with the first part that is large enough. */
const finder = threadedFeet(createBrowserChunkPool());

/** The last inspection, for what is measured anew by other definitions. */
let kept: KeptInspection | null = null;

/** The last blank reviewed, for other placements. */
let keptBlank: KeptBlank | null = null;

/** @throws usage/not-inspected before the first inspection */
function lastInspection(): KeptInspection {
  if (kept) return kept;
  throw new CamberwrightError('usage/not-inspected', 'No part is measured yet.', { remedy: 'Measure the part first.' });
}

/** @throws usage/not-reviewed before the first review */
function lastBlank(): KeptBlank {
  if (keptBlank) return keptBlank;
  throw new CamberwrightError('usage/not-reviewed', 'No blank is reviewed yet.', { remedy: 'Review the blank first.' });
}

/** Shapes read so far, by file key and unit; measuring takes them from here instead of reading twice. */
const shapes = new Map<string, LoadedShape>();
const shapeKey = (file: ShapeHandle): string => `${file.key} ${file.unit ?? ''}`;

async function loadShape(file: ShapeHandle, context: RunContext): Promise<LoadedShape> {
  const kept = shapes.get(shapeKey(file));
  if (kept) return kept;
  const options = file.unit === undefined ? {} : { unit: file.unit };
  const loaded = await readShape(sourceFromBlob(file.name, file.blob), options, context);
  forget([file.key]);
  shapes.set(shapeKey(file), loaded);
  if (loaded.unitStated) shapes.set(shapeKey({ ...file, unit: loaded.unit }), loaded);
  return loaded;
}

function forget(keys: readonly string[]): void {
  for (const key of [...shapes.keys()]) if (keys.some((k) => key.startsWith(`${k} `))) shapes.delete(key);
}

async function loadPlan(file: FileHandle): Promise<PlanFile> {
  const hash = sha256.create();
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of sourceFromBlob(file.name, file.blob).chunks()) {
    hash.update(chunk);
    text += decoder.decode(chunk, { stream: true });
  }
  text += decoder.decode();
  return { name: file.name, sha256: bytesToHex(hash.digest()), plan: readPlan(text, file.name) };
}

/** Runs a job on the files of a request; errors name the file they speak of. */
async function onFiles<T>(
  request: InspectRequest,
  context: RunContext,
  job: (input: InspectInput) => Promise<T>,
): Promise<T> {
  const input: InspectInput = {
    nominal: await loadShape(request.nominal, context),
    measured: [],
    ...(request.plan ? { plan: await loadPlan(request.plan) } : {}),
    ...(request.settings ? { settings: request.settings } : {}),
    ...(request.pose ? { pose: request.pose } : {}),
    ...(request.acceptPose === undefined ? {} : { acceptPose: request.acceptPose }),
  };
  for (const file of request.measured) input.measured.push(await loadShape(file, context));
  const names = input.measured.map(({ name }) => name);
  return nameFile(input.nominal.name, names, () => job(input));
}

function summaryOf(loaded: LoadedShape): ShapeSummary {
  const { shape, ...rest } = loaded;
  return {
    ...rest,
    kind: shape.kind,
    sections: shape.kind === 'sections' ? (shape as SectionTable).sections.length : 0,
  };
}

function planSummary({ name, sha256: hash, plan }: PlanFile): PlanSummary {
  return {
    name,
    sha256: hash,
    plan,
    part: plan.part?.number ?? plan.part?.name ?? null,
    serial: plan.serial ?? null,
    issue: plan.part?.issue ?? null,
    leadingEdgeTowards: plan.leadingEdgeTowards ?? null,
    heights: plan.sections?.heights ?? null,
    characteristics: plan.characteristics?.length ?? 0,
    zones: plan.zones?.length ?? 0,
    equipment: plan.uncertainty?.equipment ?? null,
    rule: plan.decision?.rule ?? 'guarded',
    factor: plan.decision?.factor ?? null,
  };
}

const handlers: Handlers = {
  check: async (file, context) => summaryOf(await loadShape(file, context)),
  checkPlan: async (file) => planSummary(await loadPlan(file)),
  inspect: async (request, context) => {
    const inspected = await onFiles(request, context, (input) => inspect(input, { ...context, finder }));
    kept = inspected.kept;
    return { results: inspected.results, drawing: inspected.drawing };
  },
  definitions: async () => ({ byOf: definitionsByPath() }),
  measure: async (request) => measureOne(lastInspection(), request),
  redefine: async ({ definitions }) => ({ results: redefine(lastInspection(), definitions) }),
  reviewBlank: async (request, context) => {
    const { reviewBlank } = await import('../review-blank.ts');
    const { kept: blank, ...view } = await onFiles(request, context, (input) =>
      reviewBlank(input, { ...context, finder }),
    );
    keptBlank = blank;
    return view;
  },
  placeBlank: async (request, context) => {
    const { placeBlank } = await import('../review-blank.ts');
    return placeBlank(lastBlank(), request, { ...context, finder });
  },
  adaptBlank: async ({ date, method }) => {
    const { adaptKept } = await import('../adapt-blank.ts');
    const { adaptedFiles } = await import('../adapted-files.ts');
    const { adapt, answer, blade, table } = adaptKept(lastBlank(), method);
    const outlines = table?.sections.map(({ id, height, points }) => ({ id, height, points })) ?? [];
    return { adapt, answer, outlines, files: blade && table ? adaptedFiles(blade, table, date) : [] };
  },
  sample: async ({ part }) => (await import('./example.ts')).exampleFiles(part),
  forget: async ({ keys }) => {
    forget(keys);
    return null;
  },
};

scope.onmessage = (() => {
  const dispatch = createDispatch(
    handlers,
    (message, transfer) => scope.postMessage(message, transfer),
    (reply) => (reply !== null && 'drawing' in reply ? drawingBuffers(reply.drawing) : []),
  );
  return ({ data }: { data: ToWorker }) => dispatch(data);
})();

scope.postMessage({ kind: 'ready' }, []);

function drawingBuffers(drawing: object): ArrayBuffer[] {
  const buffers = Object.values(drawing).flatMap((part) =>
    ArrayBuffer.isView(part) && part.buffer instanceof ArrayBuffer ? [part.buffer] : [],
  );
  return [...new Set(buffers)];
}
