import { CanActivate, ExecutionContext, Injectable } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { FastifyRequest } from 'fastify';
import { hasRole } from '../../../libs/ledger/identity/principal.js';
import { ProblemError } from '../http/problem.js';
import { ROUTE_RULE, RouteRule } from './roles.js';

/** Lets a request through to a route whose rule names the caller's role. */
@Injectable()
export class RoleGuard implements CanActivate {
  constructor(private readonly reflector: Reflector) {}

  canActivate(context: ExecutionContext): boolean {
    const rule = this.reflector.getAllAndOverride<RouteRule | undefined>(ROUTE_RULE, [
      context.getHandler(),
      context.getClass(),
    ]);
    if (rule === 'open') return true;
    const { caller } = context.switchToHttp().getRequest<FastifyRequest>();
    if (caller === null) throw new ProblemError('key-required', 'Send Authorization: Bearer with a key, or sign in.');
    if (rule !== undefined && hasRole(caller, ...rule)) return true;
    const roles = rule?.join(' or ') ?? 'nobody';
    throw new ProblemError('not-allowed', `This is for ${roles}; the caller's roles are ${caller.roles.join(', ')}.`);
  }
}
