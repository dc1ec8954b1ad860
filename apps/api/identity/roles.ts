import { applyDecorators, createParamDecorator, CustomDecorator, ExecutionContext, SetMetadata } from '@nestjs/common';
import { ApiExtension } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Principal, Role } from '../../../libs/ledger/identity/principal.js';
import { Person } from '../../../libs/ledger/ports/person-store.js';
import { Session } from '../../../libs/ledger/ports/session-store.js';

/** The session that a request is in. */
export interface SignedInSession {
  readonly person: Person;
  readonly session: Session;
  readonly csrfToken: string;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Whose key or session the request carries; null only on routes that are open. */
    caller: Principal | null;
    /** The caller's session; null for one who has a key. */
    signedIn: SignedInSession | null;
  }
}

/** Everyone of the house: they may read whatever it has. */
export const HOUSE = ['operator', 'quality', 'approver', 'auditor', 'admin'] as const satisfies readonly Role[];

/** Everyone who signs in. */
export const PEOPLE = [...HOUSE, 'customer'] as const satisfies readonly Role[];

/** Who may use a route. Every route has such a rule; one without is refused to everyone. */
export type RouteRule = 'open' | readonly Role[];

export const ROUTE_RULE = 'heatbook:route-rule';

/** Where the OpenAPI document says which roles may use an operation. */
export const ROLES_EXTENSION = 'x-roles';

/** The roles that may use a route, or all routes of a controller that say nothing else. */
export function Roles(...roles: [Role, ...Role[]]): ClassDecorator & MethodDecorator {
  return applyDecorators(SetMetadata(ROUTE_RULE, roles), ApiExtension(ROLES_EXTENSION, roles));
}

/** A route that needs no key. It must not show any customer's data. */
export function Open(): CustomDecorator {
  return SetMetadata(ROUTE_RULE, 'open');
}

/** The principal whose key or session the request carries. */
export const Caller = createParamDecorator((_data: unknown, context: ExecutionContext): Principal =>
  callerOf(context.switchToHttp().getRequest<FastifyRequest>()),
);

/** The same, of a request that is at hand. */
export function callerOf({ caller }: Pick<FastifyRequest, 'caller'>): Principal {
  if (caller === null) throw new Error('a route that asks for its caller must not be open');
  return caller;
}
