import type { PlanDefinition } from '../src/model/plan.ts';
import type { LengthUnit } from '../src/model/shape.ts';
import type { MeasureOne } from '../src/redefine.ts';
import type { Motion } from './controls/words.ts';
import type { Page, Preferences, Role, Settings } from './state/app-state.ts';
import type { Choice, TrialSlot } from './state/definition-choice.ts';
import type { ReviewAction } from './state/review-state.ts';
import type { Selection } from './state/selection.ts';

/** Every event of the app and what it carries. They bubble, cross shadow roots and follow user input only. */
export interface FoilEvents {
  'foil-page': { page: Page };
  'foil-open': { files: File[]; role: Role | null };
  'foil-files': { files: File[] };
  'foil-remove': { key: string };
  'foil-cancel': { key: string | null };
  'foil-unit': { key: string; unit: LengthUnit };
  'foil-settings': { change: Partial<Settings>; what: string };
  'foil-measure': null;
  'foil-example': null;
  'foil-select': Selection;
  'foil-worst': { step: 1 | -1 };
  'foil-clear': null;
  'foil-filter': { filter: string };
  'foil-copy': { text: string };
  'foil-preferences': Partial<Preferences>;
  'foil-lock': { motion: Motion; locked: boolean };
  'foil-remedy': { remedy: string };
  'foil-magnification': { magnification: number };
  'foil-input': { value: number };
  'foil-change': { value: number };
  'foil-limits-change': { trial: number };
  'foil-view': { view: string };
  'foil-context-lost': null;
  /** A row whose definition, evidence and uncertainty are asked for. */
  'foil-how': { characteristicId: string };
  'foil-definitions': null;
  /** A definition with its parameters, chosen or changed; also while a number is typed. */
  'foil-choice': Choice;
  'foil-attempt': { slot: TrialSlot; ask: MeasureOne };
  'foil-forget': { slot: TrialSlot };
  'foil-use': { now: PlanDefinition; before: PlanDefinition };
  'foil-save-plan': null;
  'foil-review': ReviewAction;
  /** The trial placement is to be computed on all points. */
  'foil-confirm': null;
  /** Two kept results set side by side. */
  'foil-choose': { from: string; to: string };
  'foil-print': null;
  'foil-offset': null;
  /** Angle of normal (degrees to each side) a curve is to be fitted over; also while it is moving. */
  'foil-fit-range': { halfAngleDeg: number };
}

/** Sends one event; false when a listener refused it. */
export function emit<K extends keyof FoilEvents>(
  from: EventTarget,
  name: K,
  detail: FoilEvents[K],
  cancelable = false,
): boolean {
  return from.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true, cancelable }));
}

export type FoilEvent<K extends keyof FoilEvents> = CustomEvent<FoilEvents[K]>;
