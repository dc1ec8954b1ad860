import { applyDecorators, createParamDecorator, CustomDecorator, ExecutionContext, SetMetadata } from '@nestjs/common';
import { ApiBearerAuth } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Principal, Role } from '../../../libs/ledger/identity/principal.js';

declare module 'fastify' {
  interface FastifyRequest {
    /** Whose key the request carries; null only on routes that are open. */
    caller: Principal | null;
  }
}

/** Who may use a route. Every route has such a rule; one without is refused to everyone. */
export type RouteRule = 'open' | readonly Role[];

export const ROUTE_RULE = 'heatbook:route-rule';

export const BEARER_KEY = 'bearerKey';

/** The roles that may use a route, or all routes of a controller. */
export function Roles(...roles: [Role, ...Role[]]): ClassDecorator & MethodDecorator {
  return applyDecorators(SetMetadata(ROUTE_RULE, roles), ApiBearerAuth(BEARER_KEY));
}

/** A route that needs no key. It must not show any customer's data. */
export function Open(): CustomDecorator {
  return SetMetadata(ROUTE_RULE, 'open');
}

/** The principal whose key the request carries. */
export const Caller = createParamDecorator((_data: unknown, context: ExecutionContext): Principal => {
  const { caller } = context.switchToHttp().getRequest<FastifyRequest>();
  if (caller === null) throw new Error('a route that asks for its caller must not be open');
  return caller;
});
