import { BOOK_ENTRY_TYPES } from '../../libs/ledger/fold/book-effect.js';
import { ContainmentRecord } from '../../libs/ledger/containment/containment-record.js';
import { findTouched } from '../../libs/ledger/containment/find-touched.js';
import { ContainDeps, runContainment } from '../../libs/ledger/containment/run-containment.js';
import { repeatContainment, startContainment } from '../../libs/ledger/containment/start-containment.js';
import { sweepContainments } from '../../libs/ledger/containment/sweep-containments.js';
import { microTime, SuspectCause } from '../../libs/ledger/containment/suspect-cause.js';
import { HoldRecord } from '../../libs/ledger/holds/hold-record.js';
import { Signer } from '../../libs/ledger/signing/signature.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { boardDesign, partData } from '../support/domain-rules.js';

const signer: Signer = { name: 'q-1', named: 'a1', roles: ['quality'], meaning: 'held for inquiry' };
const SPAN = { from: microTime('2031-03-03T08:00:00Z'), to: microTime('2031-03-03T10:00:00Z') };
const HOT: SuspectCause = { kind: 'station', station: 'HOT' };

let said = 0;
function cloudEvent(subject: string, time: string, type: string, data: object, station = 'HOT'): object {
  said += 1;
  return { specversion: '1.0', type, source: `/stations/${station}`, id: `c-${said}`, subject, time, data };
}

function cleaned(serial: string, time: string, station?: string): object {
  return cloudEvent(`BRD/${serial}`, time, 'heatbook.site.cleaned.v1', { refdes: 'U1', agent: 'water' }, station);
}

async function openShop(harness: BookHarness): Promise<void> {
  await harness.setupStore.revise('assembly', 'BRD', boardDesign(), 'test');
  await harness.setupStore.revise('part', 'CHIP', partData(), 'test');
}

async function say(harness: BookHarness, events: readonly object[]): Promise<void> {
  for (let n = 0; n < events.length; n += 1000) await harness.post(events.slice(n, n + 1000));
  await harness.fold();
}

function depsOf({ deps, search, containments }: BookHarness): ContainDeps {
  return { book: deps, search, containments };
}

function start(harness: BookHarness, cause: SuspectCause = HOT, holdCause = false): Promise<ContainmentRecord> {
  const wish = { cause, ...SPAN, holdCause, note: 'the oven ran hot', signer };
  return startContainment({ ...harness.deps, containments: harness.containments }, wish);
}

async function holdsOf({ reads }: BookHarness): Promise<readonly HoldRecord[]> {
  const found: HoldRecord[] = [];
  for (let cursor: string | null = null; ;) {
    const page = await reads.holds({ state: 'open' }, { limit: 500, cursor });
    found.push(...page.items.filter(({ containment }) => containment !== null));
    cursor = page.next;
    if (cursor === null) return found;
  }
}

describe.each([
  ['memory', memoryHarness],
  ['Postgres', postgresHarness],
])('a containment in %s', (_name, make) => {
  let harness: BookHarness;

  beforeEach(async () => {
    harness = await make();
    await openShop(harness);
    await say(harness, [
      cleaned('0001', '2031-03-03T07:59:59Z'),
      cleaned('0002', '2031-03-03T08:00:00Z'),
      cleaned('0002', '2031-03-03T08:30:00Z'),
      cleaned('0003', '2031-03-03T09:00:00Z', 'OLD'),
      cleaned('0004', '2031-03-03T09:30:00Z'),
      cloudEvent('BRD/0004', '2031-03-03T12:00:00Z', 'heatbook.unit.shipped.v1', {}),
      cloudEvent('devices/N1', '2031-03-03T09:10:00Z', 'heatbook.device.received.v1', { part: 'CHIP' }),
    ]);
  });

  afterEach(() => harness.close());

  it('holds exactly what the dry run shows, shipped units too, and says how to go on', async () => {
    const { search, deps } = harness;
    const shown = await findTouched({ search, setup: deps.setup }, { cause: HOT, ...SPAN });
    expect(shown.map(({ key, state, touches }) => [key, state, touches])).toEqual([
      ['BRD/0002', 'expected', 2],
      ['BRD/0004', 'shipped', 1],
      ['devices/N1', 'loose', 1],
    ]);
    const { id } = await start(harness);
    expect(await runContainment(depsOf(harness), id)).toBe('done');
    expect(await harness.containments.get(id)).toMatchObject({
      state: 'done',
      found: 3,
      held: 3,
      rounds: [{ held: 3 }],
    });
    const holds = await holdsOf(harness);
    expect(holds.map(({ subject }) => subject)).toEqual(expect.arrayContaining(shown.map(({ subject }) => subject)));
    expect(holds).toHaveLength(3);
    const shipped = holds.find(({ unit }) => unit?.serial === '0004');
    expect(shipped).toMatchObject({
      ...{ reason: 'by-hand', raisedBy: 'q-1', touched: true, containment: id, customer: 'NORTH', station: 'HOT' },
      evidence: { details: [expect.stringContaining('BRD/0004 entry 1: heatbook.site.cleaned.v1')] },
    });
    expect(shipped?.remedy).toContain('tell NORTH');
    const items = (await harness.containments.contained(id, { limit: 10, cursor: null })).items;
    expect(items.map(({ key }) => key)).toEqual(shown.map(({ key }) => key));
  });

  it('writes a signed entry into each ledger, whose hash can be worked out again', async () => {
    const { id } = await start(harness);
    await runContainment(depsOf(harness), id);
    for (const key of ['BRD/0002', 'BRD/0004', 'devices/N1']) {
      const [entry] = await harness.reads.ledger(key, { limit: 1, order: 'desc', afterSeq: null });
      const data = entry?.data as { signed: object; signature: { by: string; contentHash: string } };
      expect(entry).toMatchObject({ type: BOOK_ENTRY_TYPES.holdRaised, effects: [{ kind: 'hold-raised' }] });
      expect(data.signed).toMatchObject({ act: 'contain', containment: id, cause: HOT, ...SPAN });
      const { seal } = harness.deps;
      expect(data.signature).toMatchObject({ by: 'q-1', contentHash: seal.sha256Hex(seal.canonical(data.signed)) });
    }
    // What is folded afterwards follows the entry.
    await say(harness, [cleaned('0002', '2031-03-03T11:00:00Z')]);
    const [newest] = await harness.reads.ledger('BRD/0002', { limit: 1, order: 'desc', afterSeq: null });
    expect(newest?.type).toBe('heatbook.site.cleaned.v1');
  });

  it('does nothing more when it is run again, by two at once or after its end', async () => {
    const { id } = await start(harness);
    const outcomes = await Promise.all([runContainment(depsOf(harness), id), runContainment(depsOf(harness), id)]);
    expect(outcomes).toContain('done');
    expect(await runContainment(depsOf(harness), id)).toBe('idle');
    expect(await holdsOf(harness)).toHaveLength(3);
  });

  it('tops up with what came in late, and with nothing else', async () => {
    const { id } = await start(harness);
    await runContainment(depsOf(harness), id);
    await say(harness, [cleaned('0007', '2031-03-03T08:15:00Z'), cleaned('0002', '2031-03-03T08:20:00Z')]);
    const again = { id, note: 'two events came late', signer };
    const deps = { ...harness.deps, containments: harness.containments };
    expect(await repeatContainment(deps, again)).toMatchObject({ state: 'finding' });
    expect(await repeatContainment(deps, again)).toBe('busy');
    expect(await runContainment(depsOf(harness), id)).toBe('done');
    expect(await harness.containments.get(id)).toMatchObject({ rounds: [{ held: 3 }, { held: 1 }] });
    const holds = await holdsOf(harness);
    expect(holds.map(({ unit }) => unit?.serial ?? null)).toEqual(
      expect.arrayContaining(['0002', '0004', '0007', null]),
    );
    expect(holds).toHaveLength(4);
  });

  it('holds the cause itself where it is told to, once', async () => {
    const { id } = await start(harness, { kind: 'operator', operator: 'nobody' }, true);
    await runContainment(depsOf(harness), id);
    const [hold, ...others] = await holdsOf(harness);
    expect(hold).toMatchObject({
      subject: { kind: 'operator', operator: 'nobody' },
      operator: 'nobody',
      containment: id,
    });
    expect(others).toEqual([]);
    const [entry] = await harness.reads.ledger('#operators/nobody', { limit: 1, order: 'asc', afterSeq: null });
    expect(entry).toMatchObject({ seq: 1, type: BOOK_ENTRY_TYPES.holdRaised });
    await repeatContainment({ ...harness.deps, containments: harness.containments }, { id, note: 'again', signer });
    await runContainment(depsOf(harness), id);
    expect(await holdsOf(harness)).toHaveLength(1);
  });

  it('leaves nothing behind where it breaks in the middle, and is picked up by the sweep', async () => {
    const { id } = await start(harness);
    const { containments } = harness;
    const breaking: ContainDeps = {
      ...depsOf(harness),
      containments: {
        ...bound(containments),
        progress: (which, progress, at) =>
          progress.held > 0
            ? Promise.reject(new Error('the worker is gone'))
            : containments.progress(which, progress, at),
      },
    };
    expect(await runContainment(breaking, id)).toBe('failed');
    expect(await holdsOf(harness)).toEqual([]);
    expect(await harness.reads.ledger('BRD/0002', { limit: 9, order: 'asc', afterSeq: null })).toHaveLength(2);
    expect(await containments.get(id)).toMatchObject({ state: 'holding', held: 0, failure: 'the worker is gone' });
    await sweepContainments(depsOf(harness), () => false);
    expect(await holdsOf(harness)).toEqual([]);
    const later = { now: () => new Date(Date.now() + 120_000).toISOString() };
    const deps = depsOf(harness);
    await sweepContainments({ ...deps, book: { ...deps.book, clock: later } }, () => false);
    expect(await holdsOf(harness)).toHaveLength(3);
  });

  it('is given up after five attempts, with the reason', async () => {
    const { id } = await start(harness);
    const { containments } = harness;
    const store = { ...bound(containments), marks: () => Promise.reject(new Error('no marks')) };
    for (let attempt = 0; attempt < 5; attempt += 1) {
      expect(await runContainment({ ...depsOf(harness), containments: store }, id)).toBe('failed');
    }
    expect(await containments.get(id)).toMatchObject({ state: 'failed', failure: 'no marks', attempts: 5 });
    expect(await runContainment(depsOf(harness), id)).toBe('idle');
  });
});

/** The methods of a store as members of their own, so that one can be put in place of another. */
function bound(store: BookHarness['containments']): BookHarness['containments'] {
  return {
    add: (record) => store.add(record),
    get: (id) => store.get(id),
    list: (page) => store.list(page),
    again: (id, round, at) => store.again(id, round, at),
    begin: (id, at) => store.begin(id, at),
    progress: (id, progress, at) => store.progress(id, progress, at),
    failed: (id, why, last, at) => store.failed(id, why, last, at),
    abandoned: (notBegun, notSeen) => store.abandoned(notBegun, notSeen),
    contained: (id, page) => store.contained(id, page),
    marks: (id) => store.marks(id),
  };
}

describe('a containment of 5,000 units', () => {
  const UNITS = 5_000;
  /** Some twenty times what it took on two busy cores, so that only another order of growth fails. */
  const MOST_MS = 30_000;

  it('finds and holds them all within seconds', async () => {
    const harness = await postgresHarness();
    try {
      await openShop(harness);
      const serials = Array.from({ length: UNITS }, (_, n) => String(n).padStart(5, '0'));
      await say(
        harness,
        serials.map((serial) => cleaned(serial, '2031-03-03T09:00:00Z')),
      );
      const { id } = await start(harness);
      const startedAtMs = performance.now();
      expect(await runContainment(depsOf(harness), id)).toBe('done');
      const tookMs = performance.now() - startedAtMs;
      expect(await harness.containments.get(id)).toMatchObject({ state: 'done', held: UNITS });
      expect((await harness.reads.holdSummary({}, harness.deps.clock.now())).open).toBe(UNITS);
      expect(tookMs).toBeLessThan(MOST_MS);
    } finally {
      await harness.close();
    }
  }, 180_000);
});
