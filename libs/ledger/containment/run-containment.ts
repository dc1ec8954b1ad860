import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { BookDeps } from '../fold/book-deps.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BookChanges, BookTransaction, LedgerHead, TryAgain } from '../ports/book-store.js';
import { ContainmentStore } from '../ports/containment-store.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { Contained, ContainmentRecord, isNew, RoundEnded } from './containment-record.js';
import { causeSubjects, holdOnCause, holdOnTouched } from './containment-holds.js';
import { findTouched } from './find-touched.js';
import { ContainmentTooWide } from './too-wide.js';
import { Touched } from './touched.js';

/** Units whose holds are written by one statement; progress is told after each. */
const CHUNK = 1_000;
/** Attempts at a round before it is given up. */
const MOST_ATTEMPTS = 5;
const MOST_TRIES_AGAIN = 5;

export interface ContainDeps {
  readonly book: BookDeps;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
}

/**
 * Carries out the round of a containment that is under way: finds what the cause reached, and puts all holds in one commit.
 * It may be run any number of times, by several workers at once: one of them does it.
 * @returns `idle` where there was nothing to do, `failed` where this attempt came to nothing: the record says why
 */
export async function runContainment(deps: ContainDeps, id: string): Promise<'done' | 'idle' | 'failed'> {
  const { book, containments } = deps;
  const record = await containments.begin(id, book.clock.now());
  if (record === undefined) return 'idle';
  try {
    await holdAll(deps, record);
    return 'done';
  } catch (error) {
    if (error instanceof RoundEnded) return 'idle';
    const last = error instanceof ContainmentTooWide || record.attempts >= MOST_ATTEMPTS;
    const why = error instanceof Error ? error.message : String(error);
    book.log.error('a containment came to nothing', { containment: id, attempt: record.attempts, error: why });
    await containments.failed(id, why, last, book.clock.now());
    return 'failed';
  }
}

async function holdAll(deps: ContainDeps, record: ContainmentRecord): Promise<void> {
  const { book, search, containments } = deps;
  for (let tries = 1; ; tries += 1) {
    const touched = await findTouched({ search, setup: book.setup }, record);
    const known = await containments.marks(record.id);
    const fresh = touched.filter((one) => isNew(one, known.get(one.key)));
    try {
      await book.store.besideFolds((tx) => writeHolds(deps, tx, record, fresh));
      return;
    } catch (error) {
      if (!(error instanceof TryAgain) || tries >= MOST_TRIES_AGAIN) throw error;
    }
  }
}

/**
 * All holds of a round in one transaction. It runs beside the folds of shards and locks the ledgers that it writes to in
 * the order in which folds do, units before devices, so that no other unit waits for it.
 */
async function writeHolds(
  { book, containments }: ContainDeps,
  tx: BookTransaction,
  record: ContainmentRecord,
  touched: readonly Touched[],
): Promise<void> {
  const at = book.clock.now();
  const say = async (held: number): Promise<void> =>
    containments.progress(record.id, { state: 'holding', found: touched.length, held }, book.clock.now());
  await say(0);
  const units = touched.filter(({ key }) => parseStream(key)?.kind === 'unit').map(({ key }) => key);
  const loose = touched.filter(({ key }) => parseStream(key)?.kind !== 'unit').map(({ key }) => key);
  const heads = [...(await tx.heads(units)), ...(await tx.heads(loose))];
  const chain = new ChainWriter(book.seal, at);
  for (const head of heads) chain.know(head);
  const writer = { chain, record, at, rules: await tx.setupVersion() };
  const contained: Contained[] = [];
  for (let start = 0; start < touched.length; start += CHUNK) {
    const some = touched.slice(start, start + CHUNK);
    const holds = some.map((one) => holdOnTouched(record, one, book.newId(), at));
    const entries = tell(writer, holds);
    await tx.write({ ...NOTHING, holds, entries, heads: headsOf(chain, some) });
    contained.push(...holds.map((hold, n) => ({ ...heldOf(some, n), hold: hold.id, round: record.rounds.length })));
    await say(contained.length);
  }
  const causeHolds = await holdTheCause(book, tx, writer);
  const done = { id: record.id, round: record.rounds.length, contained, causeHolds, at };
  await tx.write({ ...NOTHING, contained: done });
}

const NOTHING: BookChanges = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };

interface HoldWriter {
  readonly chain: ChainWriter;
  readonly record: ContainmentRecord;
  readonly at: string;
  /** Setup version. */
  readonly rules: number;
}

/** Writes the entry of each hold into the ledger that it belongs to. */
function tell({ chain, record, at, rules }: HoldWriter, holds: readonly HoldRecord[]): BookChanges['entries'] {
  const round = record.rounds.at(-1);
  if (round === undefined) throw new Error(`containment ${record.id} has no round`);
  const before = chain.entries.length;
  for (const hold of holds) {
    chain.append({
      subject: streamOfHold(hold.subject),
      type: BOOK_ENTRY_TYPES.holdRaised,
      time: at,
      event: null,
      actor: { kind: 'person', name: round.signature.by },
      data: {
        hold: hold.id,
        containment: record.id,
        note: round.note,
        evidence: hold.evidence,
        signed: round.signed,
        signature: round.signature,
      },
      effects: [holdEffect('hold-raised', hold)],
      rules,
    });
  }
  return chain.entries.slice(before);
}

function headsOf(chain: ChainWriter, touched: readonly Touched[]): readonly LedgerHead[] {
  return touched.map(({ key }) => headOf(chain, key));
}

function headOf(chain: ChainWriter, key: StreamKey): LedgerHead {
  const { seq, hash } = chain.head(key);
  return { key, headSeq: seq, headHash: hash };
}

function heldOf(touched: readonly Touched[], n: number): Touched {
  const one = touched[n];
  if (one === undefined) throw new Error(`no subject ${n} to be held`);
  return one;
}

/** Holds the station, operator or profile itself, once: another round leaves that hold as it is. */
async function holdTheCause(book: BookDeps, tx: BookTransaction, writer: HoldWriter): Promise<readonly string[]> {
  const { chain, record, at } = writer;
  if (!record.holdCause || record.causeHolds.length > 0) return [];
  const { cause } = record;
  const revisions =
    cause.kind === 'profile'
      ? book.setup
          .all('profile')
          .flatMap(({ name }) => (name.startsWith(`${cause.name}@`) ? [name.slice(cause.name.length + 1)] : []))
      : [];
  const holds = causeSubjects(cause, revisions).map((subject) => holdOnCause(record, subject, book.newId(), at));
  const records = await tx.load(holds.map(({ subject }) => streamOfHold(subject)));
  for (const known of records) chain.know(known);
  const entries = tell(writer, holds);
  await tx.write({
    ...NOTHING,
    holds,
    entries,
    subjects: records.map((known) => ({ ...known, ...headOf(chain, known.key) })),
  });
  return holds.map(({ id }) => id);
}
