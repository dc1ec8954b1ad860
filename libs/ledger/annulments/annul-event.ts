import { EventRef } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, BookEffect } from '../fold/book-effect.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { unparkedEffects, unparkedHolds } from '../fold/group-outcome.js';
import { retold } from '../fold/retell.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BookTransaction } from '../ports/book-store.js';
import { SealedEntry } from '../ports/seal.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';

export interface AnnulEvent {
  readonly event: EventRef;
  /** The ledger that the event is told in. */
  readonly subject: StreamKey;
  /** What is wrong with it, and how that was found out. */
  readonly note: string;
  readonly signer: Signer;
}

export interface Annulment {
  readonly subject: StreamKey;
  /** Place and hash of the entry that strikes the event. */
  readonly seq: number;
  readonly hash: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  /** Holds that the annulment raised, withdrew or left without cause. */
  readonly holds: readonly HoldRecord[];
}

/**
 * Strikes an event: nothing follows from it any more, and everything after it is judged as if it had not been said. It
 * stays in its ledger, with the signed entry that strikes it. A parked event is taken out of the parking as well.
 * @returns `not-told` where its ledger does not tell of it (yet), `already` where it is struck.
 */
export async function annulEvent(deps: BookDeps, wish: AnnulEvent): Promise<Annulment | 'not-told' | 'already'> {
  return deps.store.exclusively(async (tx) => {
    const told = (await tx.entries([wish.subject])).filter(({ event }) => isSame(event, wish.event));
    if (told.some(({ type }) => type === BOOK_ENTRY_TYPES.annulled)) return 'already';
    if (told.length > 0) return strike(deps, tx, wish);
    return (await tx.dropParked(wish.event)) ? strikeParked(deps, tx, wish) : 'not-told';
  });
}

async function strike(deps: BookDeps, tx: BookTransaction, wish: AnnulEvent): Promise<Annulment> {
  let entry: SealedEntry | undefined;
  const version = await tx.setupVersion();
  const changes = await retold(deps, tx, [wish.subject], { annulled: wish.event }, (chain) => {
    entry = append(deps, chain, wish, version, []);
    return entry;
  });
  await tx.write(changes);
  if (entry === undefined) throw new Error('the story was told again without the annulment');
  const { seq, hash, recordedAt } = entry;
  return { subject: wish.subject, seq, hash, at: recordedAt, holds: changes.holds };
}

async function strikeParked(deps: BookDeps, tx: BookTransaction, wish: AnnulEvent): Promise<Annulment> {
  const [record] = await tx.load([wish.subject]);
  if (record === undefined) throw new Error(`no record of ${wish.subject}`);
  const holds = unparkedHolds(await tx.holds([wish.subject]), wish.event);
  const chain = new ChainWriter(deps.seal, deps.clock.now());
  chain.know(record);
  const { seq, hash, recordedAt } = append(deps, chain, wish, await tx.setupVersion(), unparkedEffects(holds));
  await tx.write({
    subjects: [{ ...record, headSeq: seq, headHash: hash }],
    entries: chain.entries,
    holds,
    done: [],
    parked: [],
    postponed: [],
  });
  return { subject: wish.subject, seq, hash, at: recordedAt, holds };
}

function append(
  deps: BookDeps,
  chain: ChainWriter,
  { event, subject, note, signer }: AnnulEvent,
  rules: number,
  effects: readonly BookEffect[],
): SealedEntry {
  const at = deps.clock.now();
  const ref = { source: event.source, id: event.id };
  return chain.append({
    subject,
    type: BOOK_ENTRY_TYPES.annulled,
    time: at,
    event: ref,
    actor: { kind: 'person', name: signer.name },
    data: signAct(deps.seal, signer, at, { act: 'annul', subject, event: ref, note }),
    effects,
    rules,
  });
}

function isSame(a: EventRef | null, b: EventRef): boolean {
  return a?.source === b.source && a.id === b.id;
}
