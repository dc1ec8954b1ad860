import { Dice } from './dice.js';
import { documentRoutes, FuzzDocument, FuzzRoute } from './document-routes.js';
import { FuzzRequest } from './fuzz-request.js';
import { GOOD_BODIES } from './good-bodies.js';
import { encoded, RequestDraft, targetOf } from './request-draft.js';
import { spoilRequest } from './spoil-request.js';
import { KnownNames, ValidValues } from './valid-value.js';

/** Who asks: what goes along as headers, and the password that signs. */
export interface FuzzCaller {
  /** The role that it comes with; null for somebody whom nobody let in. */
  readonly role: string | null;
  readonly headers: Readonly<Record<string, string>>;
  readonly password?: string;
}

type Query = FuzzRoute['query'][number];

const TRACE = 's,T1\n0,25\n1,30\n2,240\n';
const MOST_LEARNT = 100;

/** Makes requests of the routes in a document: good ones as far as can be told, then spoiled in one way. */
export class RequestMaker {
  private readonly routes: readonly FuzzRoute[];
  private readonly withBodies: readonly FuzzRoute[];
  private readonly values: ValidValues;
  /** Ids by the first part of a path, such as `/v1/holds`. */
  private readonly learnt: Record<string, string[]> = {};
  private readonly cursors: Record<string, string> = {};

  constructor(
    private readonly dice: Dice,
    document: FuzzDocument,
    private readonly names: KnownNames,
    private readonly callers: readonly FuzzCaller[],
  ) {
    this.routes = documentRoutes(document);
    this.withBodies = this.routes.filter(({ bodies }) => bodies.length > 0);
    this.values = new ValidValues(dice, document.components.schemas, names);
  }

  make(): FuzzRequest {
    const route = this.routeByChance();
    const caller = this.callerOf(route);
    const segments = route.path.split('/').slice(1);
    const draft: RequestDraft = {
      ...{ kind: 'as described', method: route.method, headers: { ...caller.headers }, tail: '', body: undefined },
      segments: segments.map((segment) => this.segment(segment, route)),
      query: route.query.flatMap((one): [string, string][] =>
        one.required || this.dice.chance(0.2) ? [[one.name, this.queryText(one, route)]] : [],
      ),
    };
    const value = this.bodyOf(route, caller, draft);
    spoilRequest(draft, value, route, this.dice);
    if (route.path === '/v1/session' && draft.method === 'DELETE') {
      // Whoever really signed out would be refused from then on.
      for (const name of Object.keys(caller.headers)) Reflect.deleteProperty(draft.headers, name);
    }
    return {
      kind: draft.kind,
      route: `${route.method} ${route.path}`,
      method: draft.method,
      target: targetOf(draft),
      headers: draft.headers,
      ...(draft.body !== undefined && { body: draft.body }),
      secrets: Object.values(caller.headers).map((one) => one.replace(/^Bearer |^[a-z_]+=/, '')),
    };
  }

  /** @param name as `PUT /v1/parts/{part}` */
  routeCalled(name: string): FuzzRoute | undefined {
    return this.routes.find(({ method, path }) => `${method} ${path}` === name);
  }

  /** Takes from an answer what later requests can ask for. */
  learn(routeName: string, text: string): void {
    const [, path = ''] = routeName.split(' ');
    const family = familyOf(path);
    const ids = [...text.matchAll(/"id":"([0-9a-f-]{36})"/g)].map(([, id = '']) => id);
    if (ids.length > 0) this.learnt[family] = [...(this.learnt[family] ?? []), ...ids].slice(-MOST_LEARNT);
    const cursor = /"nextCursor":"([^"]+)"/.exec(text)?.[1];
    if (cursor !== undefined) this.cursors[path] = cursor;
  }

  /** Those with bodies have the most to go wrong. */
  private routeByChance(): FuzzRoute {
    const route = this.dice.one(this.routes);
    return route.bodies.length === 0 && this.dice.chance(0.3) ? this.dice.one(this.withBodies) : route;
  }

  /** Mostly one who may use the route, as little is asked of anybody else. */
  private callerOf({ roles }: FuzzRoute): FuzzCaller {
    const allowed = this.callers.filter(({ role }) => role !== null && roles.includes(role));
    return this.dice.one(allowed.length > 0 && this.dice.chance(0.8) ? allowed : this.callers);
  }

  private segment(segment: string, { path }: FuzzRoute): string {
    if (!segment.startsWith('{')) return segment;
    const own = segment === '{id}' ? this.learnt[familyOf(path)] : undefined;
    return encoded(this.dice.one(own ?? this.names[segment.slice(1, -1)] ?? ['none']));
  }

  private queryText({ name, schema }: Query, { path }: FuzzRoute): string {
    if (name === 'cursor') return this.cursors[path] ?? 'none';
    return name === 'id' ? this.dice.one(this.names['id'] ?? ['none']) : String(this.values.make(schema, name));
  }

  private bodyOf({ bodies, method, path }: FuzzRoute, { password }: FuzzCaller, draft: RequestDraft): unknown {
    if (bodies.length === 0) return undefined;
    const { mediaType, schema } = this.dice.one(bodies);
    draft.headers['content-type'] = mediaType;
    const good = this.dice.chance(0.6) ? GOOD_BODIES[`${method} ${path}`] : undefined;
    const value = structuredClone(this.dice.one(good ?? [mediaType === 'text/csv' ? TRACE : this.values.make(schema)]));
    // With the right one an act gets as far as it can.
    if (password !== undefined && this.dice.chance(0.5)) signWith(value, password);
    draft.body = Buffer.from(typeof value === 'string' ? value : JSON.stringify(value));
    return value;
  }
}

function familyOf(path: string): string {
  return path.split('/').slice(0, 3).join('/');
}

function signWith(value: unknown, password: string): void {
  if (typeof value !== 'object' || value === null) return;
  for (const [key, member] of Object.entries(value)) {
    if (key === 'password' && typeof member === 'string') Reflect.set(value, key, password);
    else signWith(member, password);
  }
}
