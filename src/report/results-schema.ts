import { toJsonSchema } from '@valibot/to-json-schema';
import type { GenericSchema } from 'valibot';
import { planSchema } from '../model/plan.ts';
import { resultsSchema } from '../model/results.ts';

export const RESULTS_SCHEMA_ID = 'camberwright-results-1.schema.json';
export const PLAN_SCHEMA_ID = 'camberwright-plan-1.schema.json';

/** A JSON Schema as a plain record. */
export type JsonSchema = Record<string, unknown>;

function jsonSchema(schema: GenericSchema, id: string, title: string): JsonSchema {
  const { $schema: _, ...body } = toJsonSchema(schema, { target: 'draft-2020-12', ignoreActions: ['finite'] });
  return { $schema: 'https://json-schema.org/draft/2020-12/schema', $id: id, title, ...body };
}

/** JSON Schema (2020-12) of the results document. JSON itself knows no NaN or infinity. */
export function resultsJsonSchema(): JsonSchema {
  return jsonSchema(resultsSchema, RESULTS_SCHEMA_ID, 'Camberwright results, version 1');
}

/** JSON Schema (2020-12) of the plan of one part number. */
export function planJsonSchema(): JsonSchema {
  return jsonSchema(planSchema, PLAN_SCHEMA_ID, 'Camberwright plan, version 1');
}
