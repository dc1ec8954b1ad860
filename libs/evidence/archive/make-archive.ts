import { KEPT_MS, MOST_ATTEMPTS } from '../../ledger/archives/archive-bounds.js';
import { ArchiveRecord, ArchiveUnit, ArchiveUnitName } from '../../ledger/archives/archive-record.js';
import { BrokenLedger } from '../../ledger/audits/broken-ledger.js';
import { ArchiveClaim, ArchiveLost } from '../../ledger/ports/archive-store.js';
import { AuditFormat } from '../audit-formats.js';
import { ArchiveDeps } from './archive-deps.js';
import { ArchiveImpossible } from './archive-error.js';
import { everyUnit, filesOf } from './archive-manifest.js';
import { closeArchive } from './close-archive.js';
import { packTraces } from './pack-traces.js';
import { PartPacker } from './part-packer.js';

/** Whoever makes an archive says so this often, and finds out whether it is still wanted. */
const BEAT_MS = 3_000;

/** An archive with the right to work on it. */
export interface ClaimedArchive {
  readonly claim: ArchiveClaim;
  readonly record: ArchiveRecord;
}

/**
 * Makes an archive, or goes on with one after the last unit that is whole in it. Units come one after the other, and each is
 * entered with all its files in one commit.
 * @param stop ends the work: what is whole stays, and another worker may go on at once
 * @returns `failed` where this attempt came to nothing (the archive says why), `lost` where the archive is no longer ours
 */
export async function makeArchive(
  deps: ArchiveDeps,
  { claim, record }: ClaimedArchive,
  stop: AbortSignal,
): Promise<'done' | 'stopped' | 'lost' | 'failed'> {
  const { archives } = deps;
  const gone = new AbortController();
  const signal = AbortSignal.any([stop, gone.signal]);
  const beat = setInterval(() => {
    void stillOurs(deps, claim).then((ours) => {
      if (!ours) gone.abort(new ArchiveLost(`archive ${claim.id} is no longer ours`));
    });
  }, BEAT_MS);
  try {
    await settleUnits(deps, claim, record, signal);
    await closeArchive(deps, claim, signal);
    return 'done';
  } catch (error) {
    if (error instanceof ArchiveLost || gone.signal.aborted) return 'lost';
    if (stop.aborted) {
      await archives.release(claim);
      return 'stopped';
    }
    await fail(deps, claim, record, error);
    return 'failed';
  } finally {
    clearInterval(beat);
  }
}

async function stillOurs({ archives, clock, log }: ArchiveDeps, claim: ArchiveClaim): Promise<boolean> {
  try {
    return await archives.seen(claim, clock.now());
  } catch (error) {
    // Whoever works on it will notice, if it lasts.
    log.warn('an archive could not be said to be worked on', { archive: claim.id, error: String(error) });
    return true;
  }
}

async function settleUnits(
  deps: ArchiveDeps,
  claim: ArchiveClaim,
  record: ArchiveRecord,
  signal: AbortSignal,
): Promise<void> {
  const next = { number: record.parts, offset: record.bytes };
  for await (const unit of everyUnit(deps.archives, record.id, record.done)) {
    signal.throwIfAborted();
    try {
      const packed = await settleUnit(deps, claim, record, unit, next, signal);
      next.number += packed.parts;
      next.offset = packed.bytes;
    } catch (error) {
      if (signal.aborted || error instanceof ArchiveLost) throw error;
      throw new UnitFailed(unit, error);
    }
  }
}

/** Enters a unit with its files and the traces that are new with it, or as missing. */
async function settleUnit(
  deps: ArchiveDeps,
  claim: ArchiveClaim,
  record: ArchiveRecord,
  unit: ArchiveUnit,
  next: { readonly number: number; readonly offset: number },
  signal: AbortSignal,
): Promise<{ readonly parts: number; readonly bytes: number }> {
  const { archives, clock } = deps;
  const { place } = unit;
  const source = await deps.open(record.owner, unit, { since: record.since, signal });
  if (source === undefined) {
    const missing = { place, outcome: 'missing', count: null, headHash: null } as const;
    await archives.enter(claim, { unit: missing, parts: [], chunks: [], bytes: next.offset }, clock.now());
    return { parts: 0, bytes: next.offset };
  }
  const packer = new PartPacker({ ...next }, (chunks) => archives.keep(claim, chunks, clock.now()), signal);
  const names = filesOf(unit, record.formats);
  for (const [n, format] of record.formats.entries()) {
    await packer.add(names[n] ?? '', formatOf(deps, format).write(source));
  }
  await packTraces(archives, record.id, packer, source);
  const { count, headHash } = source.ledger;
  const { parts, chunks, bytes } = packer.packed;
  const written = { place, outcome: 'written', count, headHash } as const;
  await archives.enter(claim, { unit: written, parts, chunks, bytes }, clock.now());
  return { parts: parts.length, bytes };
}

function formatOf({ formats }: ArchiveDeps, name: string): Pick<AuditFormat, 'write'> {
  const format = formats[name];
  if (format !== undefined) return format;
  throw new ArchiveImpossible(`This worker cannot write ${name}: ask for the archive again without that format.`);
}

/** A failure with the unit that it came to. */
class UnitFailed extends Error {
  override readonly name = 'UnitFailed';

  constructor({ assembly, serial }: ArchiveUnitName, cause: unknown) {
    super(`${assembly}/${serial}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
  }
}

async function fail(
  { archives, clock, log }: ArchiveDeps,
  claim: ArchiveClaim,
  { id }: ArchiveRecord,
  error: unknown,
): Promise<void> {
  const why = error instanceof Error ? error.message : String(error);
  const cause = error instanceof UnitFailed ? error.cause : error;
  const known = await archives.get(id);
  const hopeless = cause instanceof BrokenLedger || cause instanceof ArchiveImpossible;
  const last = hopeless || (known?.attempts ?? 0) >= MOST_ATTEMPTS;
  log.error('an archive came to nothing', { archive: id, attempt: known?.attempts, last, error: why });
  const at = clock.now();
  const expiresAt = new Date(Date.parse(at) + KEPT_MS).toISOString();
  await archives.failed(claim, why, at, ...(last ? [expiresAt] : []));
}
