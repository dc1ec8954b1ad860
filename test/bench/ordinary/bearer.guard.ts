import { timingSafeEqual } from 'node:crypto';
import { CanActivate, ExecutionContext, UnauthorizedException } from '@nestjs/common';
import { FastifyRequest } from 'fastify';

/** Lets in who shows the one key that there is. */
export class BearerGuard implements CanActivate {
  private readonly wanted: Buffer;

  constructor(key: string) {
    this.wanted = Buffer.from(`Bearer ${key}`);
  }

  /** @throws UnauthorizedException */
  canActivate(context: ExecutionContext): boolean {
    const shown = Buffer.from(context.switchToHttp().getRequest<FastifyRequest>().headers.authorization ?? '');
    if (shown.length === this.wanted.length && timingSafeEqual(shown, this.wanted)) return true;
    throw new UnauthorizedException('Show the key of a station: Authorization: Bearer {key}');
  }
}
