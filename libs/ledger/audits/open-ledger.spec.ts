import { seal } from '../../evidence/seal.js';
import { GENESIS_HASH, SealedEntry } from '../ports/seal.js';
import { BrokenLedger } from './broken-ledger.js';
import { AUDIT_PAGE, openLedger } from './open-ledger.js';

const KEY = 'BRD-1/S1';

function hashOf(seq: number): string {
  return seq === 0 ? GENESIS_HASH : String(seq).padStart(64, 'a');
}

function chain(length: number): SealedEntry[] {
  return Array.from({ length }, (_, index) => ({
    ...{ subject: KEY, seq: index + 1, type: 'heatbook.site.cleaned.v1', event: null, actor: null, data: {} },
    ...{ time: '2030-01-07T08:00:00Z', recordedAt: '2030-01-07T08:00:00.000Z', effects: [], rules: 1 },
    ...{ prevHash: hashOf(index), hash: hashOf(index + 1) },
  }));
}

/** Reads of one ledger, and how many entries were asked for. */
function readsOf(entries: readonly SealedEntry[]) {
  const asked: number[] = [];
  return {
    asked,
    ledgerBytes: (_key: string, { limit, afterSeq }: { limit: number; afterSeq: number | null }) => {
      asked.push(limit);
      const page = entries.filter(({ seq }) => seq > (afterSeq ?? 0)).slice(0, limit);
      return Promise.resolve(page.map(({ hash, ...body }) => ({ bytes: seal.canonical(body), hash })));
    },
  };
}

function record(headSeq: number) {
  return { key: KEY, headSeq, headHash: hashOf(headSeq) };
}

async function drain(entries: AsyncIterable<SealedEntry>): Promise<number[]> {
  const seqs: number[] = [];
  for await (const { seq } of entries) seqs.push(seq);
  return seqs;
}

describe('openLedger', () => {
  it('reads up to the head that it was opened at, whatever has come since, and again from the beginning', async () => {
    const ledger = openLedger(readsOf(chain(2 * AUDIT_PAGE + 3)), record(AUDIT_PAGE + 1));
    const whole = Array.from({ length: AUDIT_PAGE + 1 }, (_, index) => index + 1);
    expect(await drain(ledger.entries())).toEqual(whole);
    expect(await drain(ledger.entries())).toEqual(whole);
  });

  it('asks for the next page only once the one before is used up, and for no more than is left', async () => {
    const reads = readsOf(chain(2 * AUDIT_PAGE + 3));
    const entries = openLedger(reads, record(2 * AUDIT_PAGE + 3))
      .entries()
      [Symbol.asyncIterator]();
    for (let taken = 0; taken < AUDIT_PAGE; taken++) await entries.next();
    expect(reads.asked).toEqual([AUDIT_PAGE]);
    while ((await entries.next()).done !== true);
    expect(reads.asked).toEqual([AUDIT_PAGE, AUDIT_PAGE, 3]);
  });

  it('has nothing to give where nothing was entered', async () => {
    expect(await drain(openLedger(readsOf([]), record(0)).entries())).toEqual([]);
  });

  const five = chain(5);
  it.each<[string, SealedEntry[]]>([
    ['its end is missing', five.slice(0, 3)],
    ['it is not there', []],
    ['an entry is missing', five.filter(({ seq }) => seq !== 3)],
    ['an entry follows another one', five.map((one) => (one.seq === 3 ? { ...one, prevHash: hashOf(9) } : one))],
    ['its last entry is another', five.map((one) => (one.seq === 5 ? { ...one, hash: hashOf(9) } : one))],
    ['an entry is of another ledger', five.map((one) => (one.seq === 3 ? { ...one, subject: 'BRD-1/S2' } : one))],
  ])('throws where %s', async (_what, entries) => {
    await expect(drain(openLedger(readsOf(entries), record(5)).entries())).rejects.toThrow(BrokenLedger);
  });

  it('stops asking once nobody wants it any more', async () => {
    const reads = readsOf(chain(3 * AUDIT_PAGE));
    const gone = new AbortController();
    const entries = openLedger(reads, record(3 * AUDIT_PAGE), gone.signal)
      .entries()
      [Symbol.asyncIterator]();
    await entries.next();
    gone.abort();
    await expect(drain({ [Symbol.asyncIterator]: () => entries })).rejects.toThrow();
    expect(reads.asked).toEqual([AUDIT_PAGE]);
  });
});
