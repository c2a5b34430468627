import * as v from 'valibot';

/** Everything that can be said of a number that was to be measured. */
export const statusSchema = v.picklist(['ok', 'not-measured', 'not-applicable', 'not-converged']);
export type Status = v.InferOutput<typeof statusSchema>;

export const finiteNumber = v.pipe(v.number(), v.finite());

/** Parameters of a definition by name, such as a half angle or a set-back. */
export const parametersSchema = v.record(v.string(), v.union([finiteNumber, v.string(), v.boolean()]));
export type Parameters = v.InferOutput<typeof parametersSchema>;

/** A measured or derived number with its definition, standard uncertainty (k = 1) and status. */
export const valueSchema = v.strictObject({
  value: v.nullable(finiteNumber),
  /** Standard uncertainty (k = 1) in the unit of `value`; null when unknown. */
  u: v.nullable(finiteNumber),
  unit: v.string(),
  /** Id of the definition, such as CH-FAR. */
  definition: v.string(),
  parameters: v.optional(parametersSchema),
  status: statusSchema,
  reason: v.optional(v.string()),
  evidence: v.optional(v.record(v.string(), v.union([finiteNumber, v.string(), v.boolean(), v.array(finiteNumber)]))),
});
export type Value = v.InferOutput<typeof valueSchema>;

type Extras = Pick<Value, 'parameters' | 'evidence' | 'reason'>;

/** A value that was obtained. A non-finite value becomes `not-converged` instead of NaN. */
export function measured(
  value: number,
  u: number | null,
  unit: string,
  definition: string,
  extras: Extras = {},
): Value {
  if (!Number.isFinite(value))
    return unmeasured('not-converged', 'The computation gave no finite number.', unit, definition);
  return { value, u: u !== null && Number.isFinite(u) ? u : null, unit, definition, ...extras, status: 'ok' };
}

/** A value that could not be obtained, with the reason. */
export function unmeasured(
  status: Exclude<Status, 'ok'>,
  reason: string,
  unit: string,
  definition: string,
  extras: Omit<Extras, 'reason'> = {},
): Value {
  return { value: null, u: null, unit, definition, ...extras, status, reason };
}
