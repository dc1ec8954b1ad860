import type { FastifyReply } from 'fastify';

/** An answer that can never become another one: proofs between explicit sizes. */
const FOR_EVER = 'max-age=31536000, immutable';
/** A checkpoint is followed by another within seconds where somebody works. */
const SHORTLY = 'public, max-age=2';

/** Lets caches keep an answer that depends on nothing but its address; what is for one caller, their own cache alone. */
export function keepForEver(reply: FastifyReply, whose: 'public' | 'private'): void {
  void reply.header('cache-control', `${whose}, ${FOR_EVER}`);
}

export function keepShortly(reply: FastifyReply): void {
  void reply.header('cache-control', SHORTLY);
}
