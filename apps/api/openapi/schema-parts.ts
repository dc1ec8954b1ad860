/** A JSON Schema (draft 2020-12) as plain data. */
export type Schema = Record<string, unknown>;

export const text: Schema = { type: 'string' };
export const time: Schema = { type: 'string', format: 'date-time' };
export const count: Schema = { type: 'integer', minimum: 0 };
export const figure: Schema = { type: 'number' };
export const flag: Schema = { type: 'boolean' };
export const hash: Schema = { type: 'string', pattern: '^[0-9a-f]{64}$' };
export const anything: Schema = {};

export function ref(name: string): Schema {
  return { $ref: `#/components/schemas/${name}` };
}

export function oneOf(...values: readonly string[]): Schema {
  return { type: 'string', enum: values };
}

export function list(items: Schema): Schema {
  return { type: 'array', items };
}

export function orNull(schema: Schema): Schema {
  return { anyOf: [schema, { type: 'null' }] };
}

/** An object with these members, of which the ones whose key ends in `?` may be missing. */
export function record(members: Record<string, Schema>, description?: string): Schema {
  const names = Object.keys(members);
  const properties = Object.fromEntries(names.map((name) => [name.replace(/\?$/, ''), members[name]]));
  const required = names.filter((name) => !name.endsWith('?'));
  return { type: 'object', required, properties, ...(description !== undefined && { description }) };
}

/** Names to values of one kind. */
export function mapOf(values: Schema): Schema {
  return { type: 'object', additionalProperties: values };
}
