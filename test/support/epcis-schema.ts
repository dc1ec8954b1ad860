import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import addFormats from 'ajv-formats';

const SCHEMA = new URL('../reference/epcis-schema/EPCISDocument.schema.json', import.meta.url);

/**
 * What the published schema of EPCIS 2.0 has against a document; empty where it is valid. `strict` is off, since the schema
 * requires members beside rather than inside what defines them.
 */
export function epcisFaults(document: unknown): readonly string[] {
  const validate = (compiled ??= compile());
  if (validate(document)) return [];
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message ?? ''}`);
}

let compiled: ReturnType<typeof compile> | undefined;

function compile() {
  const ajv = new Ajv({ strict: false });
  addFormats.default(ajv);
  return ajv.compile(JSON.parse(readFileSync(SCHEMA, 'utf8')) as object);
}
