import { demoSetup } from '../../../apps/cli/demo/demo-setup.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';

const SOURCE = '/stations/HOTGAS-9';
const BOARD = 'ZIB-PANEL-1/UNKNOWN-TYPE';
/** Between two attempts at most. */
const REST_S = 8;
const ATTEMPTS = 5;

describe('an event of a type that only a newer version knows', () => {
  let book: BookHarness;
  let nowMs: number;

  beforeEach(async () => {
    nowMs = Date.parse('2026-04-01T12:00:00Z');
    book = await memoryHarness({ now: () => new Date(nowMs).toISOString() });
    for (const { kind, name, body } of demoSetup()) await book.setupStore.revise(kind, name, body, 'spec');
  });

  afterEach(() => book.close());

  /** As the inbox of a newer version takes it in. */
  async function accept(id: string, time: string): Promise<void> {
    const type = 'heatbook.site.polished.v7';
    const payload = JSON.stringify({ source: SOURCE, id, type, subject: BOARD, time, data: { refdes: 'U1' } });
    await book.deps.store.accept([{ source: SOURCE, id, type, subject: BOARD, contentHash: id, payload }]);
  }

  async function clean(id: string, time: string, subject = BOARD): Promise<void> {
    const data = { refdes: 'U1', agent: 'solvent' };
    const event = { specversion: '1.0', type: 'heatbook.site.cleaned.v1', source: SOURCE, id, subject, time, data };
    expect(await book.post([event])).toMatchObject({ accepted: 1 });
  }

  const stateOf = async (id: string) => (await book.reads.eventStatus({ source: SOURCE, id }))?.state;

  it('holds up neither its own board nor another, in time or late', async () => {
    await clean('before', '2026-03-04T09:00:00Z');
    await accept('newer', '2026-03-04T09:10:00Z');
    await clean('after', '2026-03-04T09:20:00Z');
    await clean('other', '2026-03-04T09:20:00Z', 'ZIB-PANEL-1/ANOTHER');
    await book.fold();
    await accept('newer-and-late', '2026-03-04T08:00:00Z');
    await clean('late', '2026-03-04T08:30:00Z');
    await book.fold();
    const ids = ['before', 'newer', 'after', 'other', 'newer-and-late', 'late'];
    expect(await Promise.all(ids.map(stateOf))).toEqual([
      ...['applied', 'pending', 'applied', 'applied', 'pending', 'applied'],
    ]);
  });

  it('is parked after five attempts, for whoever has the newer version', async () => {
    await accept('newer', '2026-03-04T09:10:00Z');
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      expect(await stateOf('newer')).toBe('pending');
      await book.fold();
      nowMs += REST_S * 1000;
    }
    expect(await book.reads.eventStatus({ source: SOURCE, id: 'newer' })).toMatchObject({
      state: 'parked',
      reason: { code: 'unreadable', detail: expect.stringContaining('heatbook.site.polished.v7') as string },
    });
  });
});
