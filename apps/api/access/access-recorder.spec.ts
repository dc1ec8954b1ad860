import { AccessRecord } from '../../../libs/ledger/ports/access-store.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { AccessRecorder } from './access-recorder.js';

const refusal = (subject: string): AccessRecord => ({
  at: '2026-03-02T08:30:00.000Z',
  kind: 'refused',
  caller: null,
  roles: [],
  route: 'GET /v1/units',
  subject,
  outcome: 'key-required',
});

function bench(flushEveryMs = 1) {
  const kept: string[] = [];
  const sizes: number[] = [];
  const complaints: string[] = [];
  const state = { away: false, dropped: 0 };
  const log: Log = { info: () => undefined, warn: () => undefined, error: (message) => void complaints.push(message) };
  const recorder = new AccessRecorder({
    store: {
      append: (records) => {
        if (state.away) return Promise.reject(new Error('the database is away'));
        sizes.push(records.length);
        kept.push(...records.map(({ subject }) => subject ?? ''));
        return Promise.resolve();
      },
    },
    log,
    countDropped: (records) => {
      state.dropped += records;
    },
    flushEveryMs,
  });
  const until = async (holds: () => boolean): Promise<void> => {
    while (!holds()) await new Promise((resolve) => setImmediate(resolve));
  };
  return { recorder, kept, sizes, complaints, state, until };
}

describe('the access recorder', () => {
  it('writes what was noted together, by itself and in order', async () => {
    const { recorder, kept, sizes, until } = bench();
    for (const subject of ['a', 'b', 'c']) recorder.note(refusal(subject));
    expect(kept).toEqual([]);
    await until(() => kept.length === 3);
    expect([kept, sizes]).toEqual([['a', 'b', 'c'], [3]]);
  });

  it('writes what is still waiting when the service stops', async () => {
    const { recorder, kept } = bench(60_000);
    recorder.note(refusal('last'));
    await recorder.onApplicationShutdown();
    expect(kept).toEqual(['last']);
  });

  it('keeps records while the database is away, says so once, and writes each once when it is back', async () => {
    const { recorder, kept, complaints, state, until } = bench();
    state.away = true;
    recorder.note(refusal('a'));
    await recorder.flush();
    recorder.note(refusal('b'));
    await recorder.flush();
    await recorder.write(refusal('c'));
    expect([kept, complaints.length]).toEqual([[], 1]);
    state.away = false;
    await until(() => kept.length === 3);
    expect([kept, state.dropped]).toEqual([['a', 'b', 'c'], 0]);
  });

  it('drops and counts what comes beyond its bound, and what cannot be written at the end', async () => {
    const { recorder, kept, state } = bench(60_000);
    state.away = true;
    for (let n = 0; n < 5_003; n += 1) recorder.note(refusal(String(n)));
    expect(state.dropped).toBe(3);
    await recorder.onApplicationShutdown();
    expect([kept.length, state.dropped]).toEqual([0, 5_003]);
  });

  it('bounds and counts what it notes of strangers, and notes those who are known beside them', async () => {
    const { recorder, kept, state } = bench(60_000);
    for (let n = 0; n < 1_100; n += 1) recorder.noteStranger(refusal('stranger'));
    recorder.note(refusal('known'));
    await recorder.flush();
    const strangers = kept.filter((subject) => subject === 'stranger').length;
    // One in a tenth of a second may have come back meanwhile.
    expect(strangers).toBeGreaterThanOrEqual(1_000);
    expect(strangers).toBeLessThan(1_100);
    expect(state.dropped).toBe(1_100 - strangers);
    expect(kept.at(-1)).toBe('known');
  });

  it('has a record that is written at once durable before it goes on', async () => {
    const { recorder, kept } = bench(60_000);
    await recorder.write(refusal('now'));
    expect(kept).toEqual(['now']);
  });
});
