import { newSigningKey, nodeSigner } from '../../libs/evidence/log/node-signer.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { seal } from '../../libs/evidence/seal.js';
import { ChainWriter } from '../../libs/ledger/fold/chain-writer.js';
import { LogKey } from '../../libs/ledger/log/log-evidence.js';
import { logKeys } from '../../libs/ledger/log/log-keys.js';
import { Checkpoint, parseCheckpoint } from '../../libs/ledger/log/notes/checkpoint.js';
import { checkNote } from '../../libs/ledger/log/notes/check-note.js';
import { parseVerifierKey } from '../../libs/ledger/log/notes/verifier-key.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { MemorySignedBefore } from '../../libs/ledger/memory/memory-signed-before.js';
import { SubjectRecord } from '../../libs/ledger/ports/book-store.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { BookHarness } from './book-harness.js';
import { silentLog } from './silent-log.js';

export const ORIGIN = 'rework.example/book';
const { sha256 } = nodeDigests;

/** What the use cases of the log stand on, over a book, with a key of its own; `errors` are those that were logged. */
export function logDepsOf(
  {
    deps,
    siteLog,
    reads,
  }: Pick<BookHarness, 'siteLog' | 'reads'> & { deps: Pick<BookHarness['deps'], 'store' | 'clock'> },
  more: Partial<SiteLogDeps> = {},
): SiteLogDeps & { readonly errors: string[] } {
  const errors: string[] = [];
  const log: Log = { ...silentLog, error: (message) => void errors.push(message) };
  return {
    ...{ siteLog, reads, seal, sha256, log, errors, origin: ORIGIN },
    ...{ store: deps.store, clock: deps.clock },
    signer: nodeSigner(newSigningKey(), ORIGIN),
    signedBefore: new MemorySignedBefore(),
    ...more,
  };
}

/** Adds entries to a ledger, in a commit of their own, as if somebody had done something. */
export async function addEntries(
  { store, clock }: Pick<SiteLogDeps, 'store' | 'clock'>,
  subject: string,
  count = 1,
): Promise<void> {
  await store.besideFolds(async (tx) => {
    const [record] = await tx.load([subject]);
    if (record === undefined) throw new Error(`${subject} was not loaded`);
    const now = clock.now();
    const chain = new ChainWriter(seal, now);
    chain.know(record);
    const said = { type: 'heatbook.site.cleaned.v1', event: null, actor: {}, effects: [], rules: 0 };
    for (let n = 0; n < count; n += 1) chain.append({ ...said, subject, time: now, data: { n } });
    const { seq, hash } = chain.head(subject);
    const subjects: SubjectRecord[] = [{ ...record, headSeq: seq, headHash: hash }];
    await tx.write({ subjects, entries: chain.entries, holds: [], done: [], parked: [], postponed: [] });
  });
}

/** The newest checkpoint, if one of the book's keys signed it. */
export async function signedCheckpoint({
  siteLog,
  reads,
}: {
  readonly siteLog: Pick<LogStore, 'checkpoint'>;
  readonly reads: SiteLogDeps['reads'];
}): Promise<(Checkpoint & { readonly note: string }) | undefined> {
  const note = (await siteLog.checkpoint())?.note;
  return note === undefined ? undefined : readCheckpoint(note, await logKeys(reads));
}

/** Reads a signed checkpoint as somebody does who knows the keys. @throws Error where none of them signed it */
export async function readCheckpoint(
  note: string,
  keys: readonly Pick<LogKey, 'vkey'>[],
): Promise<Checkpoint & { readonly note: string }> {
  const known = keys.flatMap(({ vkey }) => parseVerifierKey(vkey, sha256) ?? []);
  const checked = await checkNote(note, known, (...args) => nodeDigests.verifyEd25519(...args));
  const checkpoint = checked && parseCheckpoint(checked.text);
  if (checkpoint === undefined) throw new Error(`no known key signed ${note}`);
  return { ...checkpoint, note };
}
