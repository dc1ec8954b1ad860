import { Dice } from './dice.js';
import { resolved, Schema, Schemas } from './schema.js';

/** Names that stand for something in the book, by what members and parameters are called. */
export type KnownNames = Readonly<Record<string, readonly string[]>>;

const OPTIONAL_GIVEN = 0.6;
const DEEPEST = 8;
const TIMES = ['2026-04-01T06:00:00Z', '2026-04-01T07:30:00.5+02:00', '2026-05-02T00:00:00Z'];

/** Makes values that a schema allows. Texts with a pattern that it knows nothing of are a guess. */
export class ValidValues {
  constructor(
    private readonly dice: Dice,
    private readonly schemas: Schemas,
    private readonly names: KnownNames,
  ) {}

  /** @param name of the member or parameter that the value is for */
  make(given: Schema, name = '', depth = 0): unknown {
    const schema = resolved(given, this.schemas);
    if (schema.const !== undefined) return schema.const;
    if (schema.enum !== undefined) return this.dice.one(schema.enum);
    const options = schema.oneOf ?? schema.anyOf;
    if (options !== undefined) return this.make(this.dice.one(options), name, depth);
    if (schema.allOf !== undefined) {
      const parts = schema.allOf.map((part) => this.make(part, name, depth));
      return parts.every((part) => typeof part === 'object') ? Object.assign({}, ...parts) : parts[0];
    }
    const types = [schema.type ?? (schema.properties === undefined ? 'string' : 'object')].flat();
    return this.ofType(this.dice.one(types), schema, name, depth);
  }

  private ofType(type: string, schema: Schema, name: string, depth: number): unknown {
    switch (type) {
      case 'object':
        return this.object(schema, depth);
      case 'array': {
        const { minItems = 0, maxItems = 3, items = {} } = schema;
        const count = depth > DEEPEST ? minItems : Math.min(maxItems, minItems + this.dice.below(3));
        return Array.from({ length: count }, () => this.make(items, name.replace(/s$/, ''), depth + 1));
      }
      case 'integer':
      case 'number':
        return this.figure(type, schema);
      case 'boolean':
        return this.dice.chance(0.5);
      case 'null':
        return null;
      default:
        return this.text(schema, name);
    }
  }

  private object({ properties = {}, required = [] }: Schema, depth: number): object {
    const members = Object.entries(properties).filter(
      ([key]) => required.includes(key) || (depth < DEEPEST && this.dice.chance(OPTIONAL_GIVEN)),
    );
    return Object.fromEntries(members.map(([key, schema]) => [key, this.make(schema, key, depth + 1)]));
  }

  private figure(type: 'integer' | 'number', { minimum, exclusiveMinimum, maximum }: Schema): number {
    const low = minimum ?? exclusiveMinimum ?? 0;
    const high = Math.min(maximum ?? low + 100, low + 100);
    const value = low + (high - low) * (0.01 + 0.99 * (this.dice.below(1000) / 1000));
    return type === 'integer' ? Math.round(value) : value;
  }

  private text({ format, minLength = 1, maxLength = 64 }: Schema, name: string): string {
    // What a body calls its id is for its sender to make up.
    const known = name === 'id' ? undefined : this.names[name];
    if (known !== undefined && this.dice.chance(0.9)) return this.dice.one(known);
    if (format === 'date-time') return this.dice.one(TIMES);
    if (format === 'date') return '2026-04-01';
    if (format === 'uuid') return '00000000-0000-4000-8000-000000000000';
    return `N${String(this.dice.below(name === 'id' ? 1e9 : 40))}`
      .padEnd(minLength, 'x')
      .slice(0, Math.max(maxLength, minLength));
  }
}
