import openapiTS, { astToString, type OpenAPI3 } from 'openapi-typescript';

/**
 * What the pages of the desk know of the API: its paths, queries, bodies and good answers as TypeScript. Problems are all of
 * one shape and stay out, as do descriptions, which are for reading.
 *
 * @param document as /openapi.json answers
 */
export async function clientTypes(document: object): Promise<string> {
  const types = astToString(await openapiTS(essence(document) as OpenAPI3));
  return `// Made from the OpenAPI document by "npm run client-types"; a spec fails where the two differ.\n\n${types}`;
}

function essence(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(essence);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).flatMap(([key, member]) => essentialMember(key, member)));
}

function essentialMember(key: string, member: unknown): [string, unknown][] {
  if (key === 'description' && typeof member === 'string') return [[key, '']];
  if ((key === 'summary' && typeof member === 'string') || key === 'headers') return [];
  if (key !== 'responses' || typeof member !== 'object' || member === null) return [[key, essence(member)]];
  const good = Object.entries(member).filter(([status]) => status.startsWith('2'));
  return [[key, essence(Object.fromEntries(good))]];
}
