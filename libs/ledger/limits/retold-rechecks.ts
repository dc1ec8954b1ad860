import { World } from '../../domain/book/state.js';
import { compareOrder, compareText, EventOrder } from '../../domain/events/event-order.js';
import { RecheckMark, recheckOrder } from '../../domain/limits/recheck-mark.js';
import { recheckSubject } from '../../domain/limits/recheck.js';
import { deviceKey, StreamKey, Subject, unitKey } from '../../domain/subject/subject.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { SubjectRecord } from '../ports/book-store.js';
import { Seal, SealedEntry } from '../ports/seal.js';
import { SetupBook } from '../setup/setup-book.js';
import { appendRecheck, recheckData, RecheckedSubject, ToldChange, toldChange } from './recheck-entry.js';

interface Due {
  readonly key: StreamKey;
  readonly mark: RecheckMark;
}

/**
 * The rechecks of subjects whose story is told again: each is done once more at its place among the facts, and what
 * comes out otherwise than the ledgers say is added to them.
 */
export class RetoldRechecks {
  private readonly due: Due[];
  private readonly done: RecheckedSubject[] = [];

  constructor(
    records: readonly SubjectRecord[],
    private readonly setup: SetupBook,
  ) {
    this.due = records.flatMap(({ key, state }) =>
      state === null || state.kind === 'station' ? [] : (state.state.rechecks ?? []).map((mark) => ({ key, mark })),
    );
    this.due.sort((a, b) => compareOrder(recheckOrder(a.mark), recheckOrder(b.mark)) || compareText(a.key, b.key));
  }

  /** Does those that come before an event; all that are left where there is none. */
  until(world: World, event?: EventOrder): void {
    for (let [next] = this.due; next !== undefined; [next] = this.due) {
      const { key, mark } = next;
      if (event !== undefined && compareOrder(recheckOrder(mark), event) > 0) return;
      this.due.shift();
      const rechecked = recheckSubject(world, this.setup.at(mark.version), mark, key);
      if (rechecked !== undefined) this.done.push({ key, mark, rechecked });
    }
  }

  /** @param entries of all ledgers that the story is told in. */
  write(chain: ChainWriter, entries: readonly SealedEntry[], seal: Seal): void {
    const told = new Map(entries.flatMap(toldBy));
    const changed = new Map<string, { ledger: StreamKey; subjects: [RecheckedSubject, ...RecheckedSubject[]] }>();
    for (const one of this.done) {
      const { key, mark, rechecked } = one;
      const before = told.get(nameOf(mark, key));
      if (seal.canonical(before?.changes ?? []) === seal.canonical(rechecked.changes.map(toldChange))) continue;
      // What was told in one ledger is told otherwise in the same, though the device may not have been there after all.
      const ledger = before?.ledger ?? rechecked.ledger;
      const together = nameOf(mark, ledger);
      const known = changed.get(together);
      if (known === undefined) changed.set(together, { ledger, subjects: [one] });
      else known.subjects.push(one);
    }
    for (const { ledger, subjects } of changed.values()) appendRecheck(chain, ledger, subjects, []);
  }
}

function nameOf({ limit, revision }: { readonly limit: string; readonly revision: number }, key: StreamKey): string {
  return `${limit}@${String(revision)} ${key}`;
}

interface Told {
  readonly ledger: StreamKey;
  readonly changes: readonly ToldChange[];
}

function toldBy(entry: SealedEntry): [string, Told][] {
  const data = recheckData(entry);
  if (data === undefined) return [];
  return data.rechecked.map((key) => {
    const changes = data.changes.filter(({ subject }) => recordOf(subject) === key);
    return [nameOf(data, key), { ledger: entry.subject, changes }];
  });
}

function recordOf(subject: Subject): StreamKey {
  return subject.kind === 'device' ? deviceKey(subject.device) : unitKey(subject.assembly, subject.serial);
}
