import type { Parameters, Value } from '../../model/value.ts';
import type { CarriedSection } from '../../section/carry-points.ts';
import type { SectionContext } from '../section-context.ts';

export type EdgeName = 'leading' | 'trailing';
export type FlankName = 'suction' | 'pressure';

/** A number or a choice of words that a definition needs. */
export type ParameterSpec =
  | { name: string; label: string; unit: 'mm' | 'deg' | '1'; default: number; least: number; most: number }
  | { name: string; label: string; choices: readonly string[]; default: string };

/** What a quantity is measured on. */
export interface MeasuringPlace {
  context: SectionContext;
  /** The edge or flank the quantity belongs to, null for one of the whole section. */
  edge: EdgeName | null;
  flank: FlankName | null;
  /** Fraction or set-back where the quantity is a list. */
  at: number | null;
  /** The nominal and the points carried to it; null for the nominal itself and for a part measured without one. */
  against: { nominal: SectionContext; carried: CarriedSection } | null;
}

/** One way to measure a quantity. The same id may serve several quantities. */
export interface Definition {
  id: string;
  quantity: Quantity;
  name: string;
  /** What it is, in one or two plain sentences. */
  meaning: string;
  unit: 'mm' | 'deg' | 'mm2' | 'mm4' | '1';
  parameters: readonly ParameterSpec[];
  /** Parameters arrive complete: defaults are filled in. The value records definition id and parameters. */
  measure: (place: MeasuringPlace, parameters: Parameters) => Value;
}

export type Quantity =
  | 'chord'
  | 'stagger'
  | 'camber-angle'
  | 'metal-angle'
  | 'camber-max'
  | 'thickness'
  | 'thickness-max'
  | 'area-property'
  | 'throat'
  | 'edge-point-x'
  | 'edge-point-y'
  | 'edge-radius'
  | 'edge-ellipse'
  | 'edge-thickness'
  | 'edge-form'
  | 'edge-profile'
  | 'waviness'
  | 'twist'
  | 'displacement';
