import { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { archiveBytes } from '../../../libs/evidence/archive/archive-bytes.js';
import { ArchiveRecord } from '../../../libs/ledger/archives/archive-record.js';
import { ArchiveStore } from '../../../libs/ledger/ports/archive-store.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { byteRange } from '../http/byte-range.js';
import { notModified } from '../http/not-modified.js';
import { ProblemError } from '../http/problem.js';

interface SendDeps {
  readonly archives: ArchiveStore;
  readonly log: Log;
}

/**
 * Sends an archive that is done, or the stretch of it that is asked for.
 * @throws ProblemError range-unsatisfiable
 */
export function sendArchive(deps: SendDeps, record: ArchiveRecord, request: FastifyRequest, reply: FastifyReply): void {
  const { id, bytes, manifestHash } = record;
  const etag = `"${String(manifestHash)}"`;
  const { range, 'if-range': ifRange, 'if-none-match': known } = request.headers;
  void reply.headers({ etag, 'cache-control': 'private, no-cache', vary: 'Authorization, Cookie' });
  if (notModified(known, etag)) {
    void reply.status(304).send();
    return;
  }
  const asked = byteRange({ range, ifRange: typeof ifRange === 'string' ? ifRange : undefined }, bytes, etag);
  if (asked === 'unsatisfiable') {
    throw new ProblemError(
      'range-unsatisfiable',
      `The archive has ${String(bytes)} bytes: ask for a stretch of these.`,
      {
        headers: { 'content-range': `bytes */${String(bytes)}` },
      },
    );
  }
  const { from, to } = asked ?? { from: 0, to: bytes };
  void reply.status(asked === undefined ? 200 : 206).headers({
    'content-type': 'application/zip',
    'content-disposition': `attachment; filename="heatbook-archive-${id}.zip"`,
    'accept-ranges': 'bytes',
    'content-length': String(to - from),
    ...(asked !== undefined && { 'content-range': `bytes ${String(from)}-${String(to - 1)}/${String(bytes)}` }),
  });
  const content = request.method === 'HEAD' ? [] : watched(deps, record, from, to);
  void reply.send(Readable.from(content, { objectMode: false }));
}

/** An archive that is removed while it is sent ends the connection early, which the reader sees by its length. */
async function* watched(
  { archives, log }: SendDeps,
  record: ArchiveRecord,
  from: number,
  to: number,
): AsyncGenerator<Uint8Array> {
  try {
    yield* archiveBytes(archives, record, from, to);
  } catch (error) {
    log.error('The download of an archive broke off.', { archive: record.id, error: String(error) });
    throw error;
  }
}
