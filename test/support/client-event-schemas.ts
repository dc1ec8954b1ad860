import { EVENT_SCHEMAS } from '../../libs/ledger/intake/event-schema.js';

/** A schema that is shorter is written out where it is used. */
const SHORT = 60;

/**
 * The schemas of the intake as the station client carries them: what stands in several places is written down once, under a number.
 * @returns the text of a TypeScript file
 */
export function clientEventSchemas(): string {
  const schemas = JSON.parse(JSON.stringify(EVENT_SCHEMAS)) as Record<string, unknown>;
  const times = new Map<string, number>();
  count(schemas, times);
  const shared: string[] = [];
  const types = Object.entries(schemas).map(([type, schema]) => `  '${type}': ${written(schema, times, shared)},`);
  return [
    '// Made from the schemas of the intake by "npm run client-types"; a spec fails where the two differ.',
    "import { Schema } from './schema.js';",
    '',
    '/** Schemas that others refer to, by their place. */',
    'export const SHARED_SCHEMAS: readonly Schema[] = [',
    ...shared.map((text) => `  ${text},`),
    '];',
    '',
    '/** JSON Schema of each type of event. */',
    'export const EVENT_SCHEMAS: Readonly<Record<string, Schema>> = {',
    ...types,
    '};',
    '',
  ].join('\n');
}

function count(value: unknown, times: Map<string, number>): void {
  if (typeof value !== 'object' || value === null) return;
  for (const member of Object.values(value)) count(member, times);
  if (!isSchema(value)) return;
  const text = JSON.stringify(value);
  times.set(text, (times.get(text) ?? 0) + 1);
}

function written(value: unknown, times: ReadonlyMap<string, number>, shared: string[]): string {
  if (Array.isArray(value)) return `[${value.map((item) => written(item, times, shared)).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).map(
    ([key, member]) => `${JSON.stringify(key)}: ${written(member, times, shared)}`,
  );
  const text = `{ ${members.join(', ')} }`;
  const isShared = isSchema(value) && text.length > SHORT && (times.get(JSON.stringify(value)) ?? 0) > 1;
  if (!isShared) return text;
  if (!shared.includes(text)) shared.push(text);
  return `{ $ref: ${String(shared.indexOf(text))} }`;
}

function isSchema(value: object): boolean {
  const { type } = value as { type?: unknown };
  return typeof type === 'string' || Array.isArray(type);
}
