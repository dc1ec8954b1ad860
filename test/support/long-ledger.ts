import { unitKey } from '../../libs/domain/subject/subject.js';
import { House } from '../../apps/house/open-house.js';
import { ChainWriter } from '../../libs/ledger/fold/chain-writer.js';

/** Entries that are written in one transaction. */
const AT_ONCE = 1_000;

/**
 * Makes the ledger of a unit longer by so many entries, as no real board has them; nothing is judged by them.
 * @param noteLength of what each says, characters
 */
export async function lengthenLedger(
  { book }: Pick<House, 'book'>,
  unit: { readonly assembly: string; readonly serial: string },
  entries: number,
  noteLength: number,
): Promise<void> {
  const key = unitKey(unit.assembly, unit.serial);
  for (let written = 0; written < entries; written += AT_ONCE) {
    await book.store.exclusively(async (tx) => {
      const [record] = await tx.load([key]);
      if (record === undefined) throw new Error(`there is no ${key}`);
      const chain = new ChainWriter(book.seal, book.clock.now());
      chain.know(record);
      for (let n = written; n < Math.min(written + AT_ONCE, entries); n += 1) {
        chain.append({
          ...{ subject: key, type: 'heatbook.site.cleaned.v1', time: '2026-04-01T08:00:00Z', event: null },
          ...{ actor: { kind: 'book' }, effects: [], rules: 1 },
          data: { refdes: 'U7', agent: 'water', note: String(n).repeat(noteLength).slice(0, noteLength) },
        });
      }
      const { seq, hash } = chain.head(key);
      const subjects = [{ ...record, headSeq: seq, headHash: hash }];
      await tx.write({ subjects, entries: chain.entries, holds: [], done: [], parked: [], postponed: [] });
    });
  }
}
