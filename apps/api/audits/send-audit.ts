import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { AuditFormat } from '../../../libs/evidence/audit-formats.js';
import { AuditSource } from '../../../libs/ledger/audits/audit-source.js';
import { Log } from '../../../libs/ledger/ports/log.js';

/**
 * Sends an export while it is being written. What goes wrong before its first byte is thrown; what goes wrong later breaks
 * the connection, so that the reader sees that the end is missing.
 */
export async function sendAudit(
  reply: FastifyReply,
  format: AuditFormat,
  source: AuditSource,
  log: Log,
): Promise<void> {
  const chunks = format.write(source)[Symbol.asyncIterator]();
  const first = await chunks.next();
  void reply.send(Readable.from(onward(first, chunks, source, log), { objectMode: false }));
}

async function* onward(
  first: IteratorResult<Uint8Array>,
  chunks: AsyncIterator<Uint8Array>,
  { ledger: { subject } }: AuditSource,
  log: Log,
): AsyncGenerator<Uint8Array> {
  try {
    for (let next = first; next.done !== true; next = await chunks.next()) yield next.value;
  } catch (error) {
    log.error('An export broke off.', { subject, why: error instanceof Error ? error.message : String(error) });
    throw error;
  } finally {
    // A reader who has gone leaves the writer where it is.
    await chunks.return?.();
  }
}
