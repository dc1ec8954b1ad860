import { unitKey } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { DueQuery, RetentionStore } from '../ports/retention-store.js';
import { DueUnit, yearsAfter } from '../retention/due-unit.js';
import { covers, LegalAct, LegalHold } from '../retention/legal-hold.js';
import { inverted, keysetPage } from './keyset-page.js';
import { readRevisions } from './memory-setup-store.js';
import { LedgerRow, MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { readSubject } from './stored-rows.js';
import { entryOf } from '../ports/seal.js';

const DEPARTURES = ['heatbook.unit.shipped.v1', 'heatbook.unit.scrapped.v1'];

/** Legal holds, and what is due, in the memory of this process. */
export class MemoryRetentionStore implements RetentionStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async addLegalHold(hold: LegalHold): Promise<void> {
    await roundTrip();
    if (this.#tables.legalHolds.has(hold.id)) throw new Error(`there is a legal hold ${hold.id}`);
    this.#tables.legalHolds.set(hold.id, JSON.stringify(hold));
  }

  async legalHold(id: string): Promise<LegalHold | undefined> {
    await roundTrip();
    return this.#all().find((hold) => hold.id === id);
  }

  async liftLegalHold(id: string, lift: LegalAct): Promise<LegalHold | undefined> {
    await roundTrip();
    const hold = this.#all().find((known) => known.id === id);
    if (hold === undefined || hold.lift !== null) return hold;
    if (hold.signature.by === lift.signature.by) throw new Error('whoever set a legal hold cannot lift it');
    const lifted: LegalHold = { ...hold, lift };
    this.#tables.legalHolds.set(id, JSON.stringify(lifted));
    return lifted;
  }

  async legalHolds(state: 'in-force' | 'lifted' | undefined, page: PageRequest): Promise<Page<LegalHold>> {
    await roundTrip();
    const wanted = this.#all().filter(({ lift }) => state === undefined || (lift === null) === (state === 'in-force'));
    return keysetPage(wanted, ({ id, signature }) => [inverted(signature.at), inverted(id)], page);
  }

  async due({ terms, before }: DueQuery, page: PageRequest): Promise<Page<DueUnit>> {
    await roundTrip();
    const years = new Map(terms.map(({ customer, keepYears }) => [customer, keepYears]));
    const customers = new Map<string, string>();
    for (const revision of readRevisions(this.#tables)) {
      if (revision.kind === 'assembly') customers.set(revision.name, revision.body.customer);
    }
    const inForce = this.#all().filter(({ lift }) => lift === null);
    const due = [...this.#tables.ledgers.values()].flatMap((row): DueUnit[] => {
      const left = departed(row);
      const customer = left && customers.get(left.assembly);
      const keepYears = customer === undefined ? undefined : years.get(customer);
      if (left === undefined || customer === undefined || keepYears === undefined) return [];
      const keptUntil = yearsAfter(left.leftAt, keepYears);
      const isHeld = inForce.some(({ scope }) => covers(scope, { ...left, customer }));
      return isHeld || Date.parse(keptUntil) > Date.parse(before) ? [] : [{ ...left, customer, keepYears, keptUntil }];
    });
    return keysetPage(due, ({ assembly, serial }) => [unitKey(assembly, serial)], page);
  }

  #all(): LegalHold[] {
    return [...this.#tables.legalHolds.values()].map((text) => JSON.parse(text) as LegalHold);
  }
}

/** A unit that is shipped or scrapped, with when: by the last of those entries that is not annulled. */
function departed(row: LedgerRow): Pick<DueUnit, 'assembly' | 'serial' | 'state' | 'leftAt'> | undefined {
  const { state } = readSubject(row);
  if (state?.kind !== 'unit') return undefined;
  const { assembly, serial, status } = state.state;
  if (status !== 'shipped' && status !== 'scrapped') return undefined;
  const entries = row.entries.map(entryOf);
  const struck = new Set(
    entries.flatMap(({ type, event }) => (type === BOOK_ENTRY_TYPES.annulled ? [JSON.stringify(event)] : [])),
  );
  const times = entries
    .filter(({ type, event }) => DEPARTURES.includes(type) && !struck.has(JSON.stringify(event)))
    .map(({ time }) => new Date(time).toISOString());
  const leftAt = times.sort().at(-1);
  return leftAt === undefined ? undefined : { assembly, serial, state: status, leftAt };
}
