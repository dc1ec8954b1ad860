import { HouseCalls } from '../support/running-house.js';
import { Schema, Schemas } from './schema.js';

/** A route as the OpenAPI document describes it. */
export interface FuzzRoute {
  readonly method: string;
  /** As `/v1/units/{assembly}`. */
  readonly path: string;
  readonly query: readonly { readonly name: string; readonly required: boolean; readonly schema: Schema }[];
  /** By media type. */
  readonly bodies: readonly { readonly mediaType: string; readonly schema: Schema }[];
  /** Roles that it says may use it; none where everybody may. */
  readonly roles: readonly string[];
  /** Statuses that it says it answers with. */
  readonly statuses: ReadonlySet<number>;
}

interface Operation {
  readonly parameters?: readonly {
    readonly name: string;
    readonly in: string;
    readonly required?: boolean;
    readonly schema?: Schema;
  }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: Schema }>> };
  readonly responses: Readonly<Record<string, unknown>>;
  readonly 'x-roles'?: readonly string[];
}

/** The parts of an OpenAPI document that requests are made from. */
export interface FuzzDocument {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Schemas };
}

/** Asks a product for its document. */
export async function readDocument({ call }: Pick<HouseCalls, 'call'>): Promise<FuzzDocument> {
  const { body } = await call('GET', '/openapi.json', undefined, { key: null });
  return {
    paths: body['paths'] as FuzzDocument['paths'],
    components: body['components'] as FuzzDocument['components'],
  };
}

export function documentRoutes({ paths }: FuzzDocument): FuzzRoute[] {
  return Object.entries(paths).flatMap(([path, operations]) =>
    Object.entries(operations).map(([method, { parameters = [], requestBody, responses, 'x-roles': roles = [] }]) => ({
      method: method.toUpperCase(),
      path,
      query: parameters.flatMap(({ in: place, name, required = false, schema = {} }) =>
        place === 'query' ? [{ name, required, schema }] : [],
      ),
      bodies: Object.entries(requestBody?.content ?? {}).map(([mediaType, { schema }]) => ({ mediaType, schema })),
      roles,
      statuses: new Set(Object.keys(responses).map(Number)),
    })),
  );
}
