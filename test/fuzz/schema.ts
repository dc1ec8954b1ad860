/** What the fuzz reads of a JSON Schema as the OpenAPI document has them. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly format?: string;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly oneOf?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly allOf?: readonly Schema[];
}

/** Schemas by the name that a `$ref` ends with. */
export type Schemas = Readonly<Record<string, Schema>>;

/** The schema itself, where it is named by a reference. */
export function resolved(schema: Schema, schemas: Schemas): Schema {
  const name = schema.$ref?.split('/').at(-1);
  if (name === undefined) return schema;
  const found = schemas[name];
  if (found === undefined) throw new Error(`the document refers to ${name}, which it does not have`);
  return resolved(found, schemas);
}
