import { inputRecord } from './inputs.ts';
import { type Results, SCHEMA_VERSION } from './model/results.ts';
import type { LoadedShape } from './model/shape.ts';
import type { InspectSettings } from './settings.ts';

/** Version of the tool, as the package states it. */
export const TOOL = { name: 'camberwright', version: '0.1.0' };

export interface ResultsSubject {
  nominal?: LoadedShape | undefined;
  measured: readonly LoadedShape[];
  plan?: { name: string; sha256: string } | undefined;
  settings: InspectSettings;
}

/** Returns a results document with its head filled in: tool, inputs, settings and the readers' warnings. */
export function newResults(subject: ResultsSubject): Results {
  const { nominal, measured, plan, settings } = subject;
  const files = nominal ? [nominal, ...measured] : [...measured];
  return {
    $schema: 'results.schema.json',
    schema: 'camberwright/results',
    schemaVersion: SCHEMA_VERSION,
    tool: TOOL,
    answers: {},
    inputs: {
      ...(nominal ? { nominal: inputRecord(nominal) } : {}),
      measured: measured.map(inputRecord),
      ...(plan ? { plan: { name: plan.name, sha256: plan.sha256 } } : {}),
    },
    settings: { ...settings },
    sections: [],
    warnings: files.flatMap((file) => file.warnings),
    timing: {},
  };
}
