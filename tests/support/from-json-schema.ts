import * as fc from 'fast-check';

/** The part of JSON Schema (draft 2020-12) that our contract is written in. */
export interface JsonSchema {
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, JsonSchema>>;
  readonly type?: string | readonly string[];
  readonly const?: string;
  readonly enum?: readonly string[];
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly pattern?: string;
}

type Defs = Readonly<Record<string, JsonSchema>>;

/** Values that fit a schema; fields that may be left out sometimes are. */
export function fitting(schema: JsonSchema, defs: Defs = schema.$defs ?? {}): fc.Arbitrary<unknown> {
  if (schema.$ref !== undefined) {
    const named = defs[schema.$ref.replace('#/$defs/', '')];
    if (named === undefined) throw new Error(`no ${schema.$ref}`);
    return fitting(named, defs);
  }
  const either = schema.anyOf ?? schema.oneOf;
  if (either !== undefined) return fc.oneof(...either.map((one) => fitting(one, defs)));
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  if (typeof schema.type === 'object') {
    return fc.oneof(...schema.type.map((type) => fitting({ ...schema, type }, defs)));
  }
  return ofType(schema, defs);
}

function ofType(schema: JsonSchema, defs: Defs): fc.Arbitrary<unknown> {
  const { minimum = -1_000_000, maximum = 1_000_000 } = schema;
  switch (schema.type) {
    case 'object':
      return ofObject(schema, defs);
    case 'array': {
      const { minItems = 0, maxItems = 3 } = schema;
      return fc.array(fitting(schema.items ?? {}, defs), {
        minLength: minItems,
        maxLength: Math.min(maxItems, minItems + 3),
      });
    }
    case 'integer':
      return fc.integer({ min: Math.max(minimum, -1_000_000), max: Math.min(maximum, 1_000_000) });
    case 'number':
      return fc.double({ min: minimum, max: maximum, noNaN: true });
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    case 'string':
      return ofString(schema);
    default:
      throw new Error(`a schema of type ${String(schema.type)} is not known here`);
  }
}

function ofObject({ properties = {}, required = [] }: JsonSchema, defs: Defs): fc.Arbitrary<unknown> {
  const fields = Object.fromEntries(Object.entries(properties).map(([name, one]) => [name, fitting(one, defs)]));
  return fc.record(fields, { requiredKeys: [...required] });
}

function ofString({ pattern, minLength = 0, maxLength = 40 }: JsonSchema): fc.Arbitrary<string> {
  const letters = pattern === '^[A-Za-z0-9_-]{8,64}$' ? { minLength: 8, maxLength: 64 } : { minLength, maxLength };
  return fc.string({ unit: fc.constantFrom(...'aZ9_-'), ...letters });
}
