import { seal } from '../../evidence/seal.js';
import { ConcessionData } from '../../domain/setup/setup-data.js';
import { LedgerReach, LogReader } from '../log/log-reader.js';
import { memoryBook } from '../memory/memory-book.js';
import { BookBench } from '../ports/book-bench.contract.js';
import { assemblyDesign, sampleHold } from '../ports/book-samples.contract.js';
import { ReadStore } from '../ports/read-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { readUnit, UnitReading } from '../views/read-unit.js';
import { AuditSource } from './audit-source.js';
import { BrokenLedger } from './broken-ledger.js';
import { AuditWish, LOG_PATIENCE_MS, openAudit } from './open-audit.js';

const UNIT = { assembly: 'BRD-1', serial: '0001' };
const KEY = 'BRD-1/0001';
const ABOARD = 'BRD-1:0001:U7';
const CSV = 'time (s),Joint (°C)\n0,23\n';
const COMMITMENTS = { entry: 'c1', signed: 'c2' };

describe('openAudit', () => {
  const clock = { now: () => '2026-03-04T08:00:00.000Z' };
  let stores: ReturnType<typeof memoryBook>;
  let bench: BookBench;
  let asked: unknown[];

  const siteLog: LogReader = {
    caughtUp: (ledgers: readonly LedgerReach[], patienceMs: number) => {
      asked.push(['caughtUp', ledgers, patienceMs]);
      return Promise.resolve(false);
    },
    evidence: (ledgers: readonly LedgerReach[], since: readonly number[]) => {
      asked.push(['evidence', ledgers, since]);
      return Promise.resolve(null);
    },
  };
  const names = {
    opened: (commitments: readonly string[]) => {
      return Promise.resolve(
        commitments.map((commitment) => ({ commitment, name: 'ada', printedName: null, salt: null })),
      );
    },
  };

  async function open(
    wish: AuditWish,
    reads: ReadStore = stores.read,
    change = (reading: UnitReading): UnitReading => reading,
  ): Promise<AuditSource> {
    const setup = new SetupBook(stores.setup);
    const reading = await readUnit({ reads, setup, clock }, UNIT);
    if (reading === undefined) throw new Error('the unit is unknown');
    return openAudit({ reads, traces: stores.traces, names, siteLog, setup, clock }, change(reading), wish);
  }

  async function concede(name: string, subject: ConcessionData['subject']): Promise<void> {
    const terms = { limit: 'site-reworks', allowed: 9, from: clock.now(), customerReference: name } as const;
    await stores.setup.revise('concession', name, { subject, ...terms, withdrawn: false }, 'ada');
  }

  beforeEach(async () => {
    asked = [];
    stores = memoryBook({ now: clock.now });
    bench = new BookBench({ ...stores, advance: null, close: () => Promise.resolve() }, seal);
    await stores.setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
    await concede('on-site', { kind: 'site', ...UNIT, refdes: 'U7' });
    await concede('on-device', { kind: 'device', device: ABOARD });
    await concede('elsewhere', { kind: 'unit', assembly: 'BRD-1', serial: '0002' });
    await bench.append(KEY, 1, { data: { heat: { trace: 'run-1' } } });
    await bench.append(KEY, 1, {
      data: { signature: { named: COMMITMENTS.entry }, signed: { named: COMMITMENTS.signed } },
    });
    await bench.append(KEY, 1);
    await bench.append(`devices/${ABOARD}`, 2);
    const signature = { by: 'ada', named: 'c3', at: clock.now(), meaning: 'decided', contentHash: 'ab' };
    const disposition = { id: 'd1', decision: 'rework', note: 'again', signature, approved: true } as const;
    const onGone = { subject: { kind: 'device', device: 'D-GONE' } } as const;
    await bench.write({
      holds: [
        sampleHold('open'),
        sampleHold('released', { state: 'released', dispositions: [disposition], assignee: 'nina' }),
        sampleHold('withdrawn', { state: 'withdrawn' }),
        sampleHold('gone', onGone),
        sampleHold('other', { ...onGone, unit: { assembly: 'BRD-1', serial: '0002' } }),
      ],
    });
    const trace = {
      contentHash: 'aa',
      csv: CSV,
      encoding: 'utf8',
      voltage: null,
      by: 'bench-1',
      at: clock.now(),
    } as const;
    for (const name of ['run-1', 'run-2']) await stores.traces.put({ ...trace, name });
  });

  it('has everything for the house, as it stood when the unit was read', async () => {
    const source = await open({ for: 'house' });
    await bench.append(KEY, 4);
    const seqs: number[] = [];
    for await (const { seq } of source.ledger.entries()) seqs.push(seq);
    expect(seqs).toEqual([1, 2, 3]);
    expect(source).toMatchObject({ ...UNIT, exportedAt: clock.now(), audience: { for: 'house', leftOut: [] } });
    expect(source.unit.headHash).toBe(source.ledger.headHash);
    expect(source.devices.map(({ device, subject, count }) => [device, subject, count])).toEqual([
      [ABOARD, `devices/${ABOARD}`, 2],
    ]);
    expect(source.configuration.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'assembly BRD-1',
      'concession on-site',
      'concession on-device',
    ]);
  });

  it('tells every hold on the unit whatever became of it, without how the house works on it', async () => {
    const { holds } = await open({ for: 'house' });
    expect(holds.map(({ state, subject }) => `${state} ${subject.kind}`).sort()).toEqual([
      'open device',
      'open site',
      'released site',
      'withdrawn site',
    ]);
    expect(JSON.stringify(holds)).not.toMatch(/assignee|comments|nina/);
  });

  it('opens the names of whoever signed an entry, a decision or a release', async () => {
    const { people } = await open({ for: 'house' });
    expect(people.map(({ commitment }) => commitment)).toEqual(['a1', 'c1', 'c2', 'c3']);
  });

  it('gives the traces that its steps name, and no others', async () => {
    const source = await open({ for: 'house' });
    expect(source.traces).toMatchObject([{ name: 'run-1', bytes: Buffer.byteLength(CSV) }]);
    expect(await source.trace('run-1')).toMatchObject({ name: 'run-1' });
    expect(await source.trace('run-2')).toBeUndefined();
  });

  it('waits for the log, and takes the proofs of what there is', async () => {
    await open({ for: 'house', since: [7, 9] });
    const reach = [
      { subject: KEY, seq: 3 },
      { subject: `devices/${ABOARD}`, seq: 2 },
    ];
    expect(asked).toEqual([
      ['caughtUp', reach, LOG_PATIENCE_MS],
      ['evidence', reach, [7, 9]],
    ]);
  });

  it('leaves out for a customer what tells of others, and says so', async () => {
    const source = await open({ for: 'customer' }, stores.customers.of('Northlight'));
    expect(source.devices).toEqual([]);
    expect(source.audience).toEqual({
      for: 'customer',
      leftOut: expect.arrayContaining([expect.stringContaining('concessions on devices')]) as unknown,
    });
    expect(source.configuration.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'assembly BRD-1',
      'concession on-site',
    ]);
    expect(asked.at(-1)).toEqual(['evidence', [{ subject: KEY, seq: 3 }], []]);
  });

  it('opens nothing where the ledger is shorter than its head', async () => {
    const longer = (reading: UnitReading): UnitReading => ({ ...reading, record: { ...reading.record, headSeq: 4 } });
    await expect(open({ for: 'house' }, stores.read, longer)).rejects.toThrow(BrokenLedger);
    expect(asked).toEqual([]);
  });
});
