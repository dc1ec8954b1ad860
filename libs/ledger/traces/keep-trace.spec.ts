import { seal } from '../../evidence/seal.js';
import { memoryBook } from '../memory/memory-book.js';
import { keepTrace, KeepTrace, TraceKept } from './keep-trace.js';

const AT = '2026-03-02T08:30:01.000Z';
const LOG = 's,Joint (mV)\n0,0\n1,7.829\n';

describe('keeping a trace', () => {
  const clock = { now: () => AT };

  async function keep(over: Partial<KeepTrace>, { traces } = memoryBook(clock)): Promise<TraceKept> {
    const wish = { name: 'run-1', voltage: null, by: 'bench-1', bytes: Buffer.from(LOG), ...over };
    return keepTrace({ traces, seal, clock }, wish);
  }

  it('keeps the file with its hash, sender and time, and answers with temperatures', async () => {
    const book = memoryBook(clock);
    const voltage = { type: 'K', coldJunctionC: 25 } as const;
    const kept = await keep({ voltage }, book);
    if (kept.outcome !== 'created') throw new Error(kept.outcome);
    expect(kept.loggedIn).toBe('mV');
    // Worked from NIST Monograph 175: 7.829 mV read with the junction at 25 C.
    expect(kept.trace.channels[0]?.values[1]).toBeCloseTo(217.22, 2);
    const stored = { name: 'run-1', csv: LOG, encoding: 'utf8', voltage, by: 'bench-1', at: AT };
    expect(await book.traces.get('run-1')).toEqual({ ...stored, contentHash: seal.sha256Hex(LOG) });
  });

  it.each<[string, Partial<KeepTrace>, RegExp]>([
    ['mV of an untold thermocouple', {}, /Joint is in mV/],
    ['a cold junction beyond the tables', { voltage: { type: 'T', coldJunctionC: 500 } }, /500 C is outside/],
    ['what is no text', { bytes: Buffer.from('s,Joint\n0,\0\n') }, /NUL/],
    ['a row that cannot be read', { bytes: Buffer.from('s,Joint\n0,25\nx,26\n') }, /'x' is no time/],
  ])('refuses %s and keeps nothing', async (_what, wish, why) => {
    const book = memoryBook(clock);
    const kept = await keep(wish, book);
    if (kept.outcome !== 'unreadable') throw new Error(kept.outcome);
    expect(kept.faults[0]?.detail).toMatch(why);
    expect(kept.faults[0]?.remedy).not.toBe('');
    expect(await book.traces.get('run-1')).toBeUndefined();
  });

  it('gives one name to one file, whatever comes at once', async () => {
    const book = memoryBook(clock);
    const logs = ['s,A\n0,25\n', 's,A\n0,26\n', 's,A\n0,25\n'];
    const kept = await Promise.all(logs.map((log) => keep({ bytes: Buffer.from(log) }, book)));
    expect(kept.map(({ outcome }) => outcome)).toEqual(['created', 'different', 'same']);
  });
});
