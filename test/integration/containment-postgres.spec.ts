import { DataSource } from 'typeorm';
import { Contain1764340000000 } from '../../migrations/1764340000000-contain.js';
import { QuickenTheFold1764500000000 } from '../../migrations/1764500000000-quicken-the-fold.js';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { findTouched } from '../../libs/ledger/containment/find-touched.js';
import { runContainment } from '../../libs/ledger/containment/run-containment.js';
import { startContainment } from '../../libs/ledger/containment/start-containment.js';
import { microTime } from '../../libs/ledger/containment/suspect-cause.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { House, openHouse } from '../../apps/house/open-house.js';
import { acceptEvents } from '../../libs/ledger/intake/accept-events.js';
import { readBatch } from '../../libs/ledger/intake/read-events.js';
import { mulberry32 } from '../support/mulberry32.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { silentLog } from '../support/silent-log.js';

/** The demo's facts in an order in which many come late, so that the book is told again now and then. */
function facts(): readonly object[] {
  const random = mulberry32(4);
  return makeDemo()
    .posts.flatMap(({ events }) => events.flatMap((item) => (item.expected === 'accepted' ? [item.event] : [])))
    .map((event, n) => ({ event, place: n + random() * 60 }))
    .sort((a, b) => a.place - b.place)
    .map(({ event }) => event);
}

async function tell({ book, inbox, setupStore }: House): Promise<void> {
  for (const { kind, name, body } of makeDemo().setup) await setupStore.revise(kind, name, body, 'demo');
  const all = facts();
  for (let n = 0; n < all.length; n += 200) {
    const reading = readBatch(JSON.stringify(all.slice(n, n + 200)));
    if (!reading.ok) throw new Error(reading.problem.detail);
    const wake = (): void => undefined;
    await acceptEvents({ inbox, seal: book.seal, wake }, reading.items, { maySpeakFor: () => true });
    for (const shard of await book.store.shardsDue()) await foldShard(book, shard);
  }
}

let fresh: FreshDatabase;
let house: House;
let owner: DataSource;

beforeAll(async () => {
  fresh = await freshDatabase();
  house = await openHouse({ databaseUrl: fresh.url, redisUrl: undefined, log: silentLog });
  owner = new DataSource({ type: 'postgres', url: fresh.url, extra: { options: '-c heatbook.customer=*' } });
  await owner.initialize();
  await tell(house);
});

afterAll(async () => {
  await owner.destroy();
  await house.close();
  await fresh.drop();
});

describe('marks of entries', () => {
  async function marks(): Promise<{ mark: string }[]> {
    return owner.query(
      `SELECT mark, hour::text AS hour, unnest(subjects) AS subject, unnest(seqs) AS seq FROM mark_group
       ORDER BY mark, hour, subject, seq`,
    );
  }

  async function times(): Promise<object[]> {
    return owner.query(`SELECT subject, seq, happened_at::text AS at FROM ledger_entry ORDER BY subject, seq`);
  }

  it('are given to entries from before by the migration as the service gives them', async () => {
    const [marksBefore, timesBefore] = [await marks(), await times()];
    const kinds = new Set(marksBefore.map(({ mark }) => mark.split(' ')[0]));
    expect([...kinds].sort()).toEqual(
      expect.arrayContaining(['alloy', 'device', 'device-lot', 'operator', 'part', 'profile', 'station']),
    );
    const [finding, grouping] = [new Contain1764340000000(), new QuickenTheFold1764500000000()];
    const runner = owner.createQueryRunner();
    await grouping.down(runner);
    await finding.down(runner);
    await finding.up(runner);
    await grouping.up(runner);
    await runner.release();
    expect(await times()).toEqual(timesBefore);
    expect(await marks()).toEqual(marksBefore);
  });

  it('cannot be changed or taken away', async () => {
    await expect(owner.query(`DELETE FROM mark_group`)).rejects.toThrow('append-only');
    await expect(owner.query(`UPDATE ledger_entry SET happened_at = now()`)).rejects.toThrow('append-only');
  });

  it('are looked up in the index by the role of the service, also by the beginning of a mark', async () => {
    const runner = owner.createQueryRunner();
    await runner.query(`SET ROLE heatbook_app`);
    await runner.query(`SET enable_seqscan = off`);
    const plan = async (condition: string): Promise<string> =>
      JSON.stringify(await runner.query(`EXPLAIN SELECT subjects FROM mark_group WHERE ${condition} AND hour > now()`));
    expect(await plan(`mark = 'station X'`)).toMatch(/Index Cond: \(\(mark = 'station X'::text\) AND \(hour/);
    expect(await plan(`mark >= 'profile X@' AND mark < 'profile XA'`)).toMatch(/Index Cond: \(\(mark >= /);
    await runner.query(`RESET ROLE`);
    await runner.query(`RESET enable_seqscan`);
    await runner.release();
  });
});

it('leaves all holds or none where the worker dies in the midst of its transaction', async () => {
  const { containments, book, reads } = house;
  const [from, to] = [microTime('2000-01-01T00:00:00Z'), microTime('2100-01-01T00:00:00Z')];
  const station = makeDemo().setup.find(({ kind }) => kind === 'station')?.name ?? '';
  const suspicion = { cause: { kind: 'station', station }, from, to } as const;
  const reached = await findTouched({ search: house.search, setup: book.setup }, suspicion);
  expect(reached.length).toBeGreaterThan(3);
  const signer = { name: 'q-1', named: 'a1', roles: ['quality'], meaning: 'held' } as const;
  const { id } = await startContainment(
    { ...book, containments },
    { ...suspicion, holdCause: false, note: 'out of calibration', signer },
  );
  const before = await reads.holdSummary({}, book.clock.now());
  // What a killed process leaves behind is a server that ends its connection, wherever that was.
  const dies = async (): Promise<void> => {
    const ended: unknown[] = await owner.query(
      `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
       WHERE datname = current_database() AND state = 'idle in transaction'`,
    );
    expect(ended).toHaveLength(1);
  };
  const dying = Object.assign(Object.create(containments) as typeof containments, {
    progress: (...[which, progress, at]: Parameters<typeof containments.progress>) =>
      progress.held > 0 ? dies() : containments.progress(which, progress, at),
  });
  expect(await runContainment({ book, search: house.search, containments: dying }, id)).toBe('failed');
  expect(await reads.holdSummary({}, book.clock.now())).toEqual({ ...before });
  expect(await containments.marks(id)).toEqual(new Map());
  expect(await runContainment(house, id)).toBe('done');
  expect((await reads.holdSummary({}, book.clock.now())).open).toBe(before.open + reached.length);
  expect([...(await containments.marks(id)).keys()]).toEqual(expect.arrayContaining(reached.map(({ key }) => key)));
}, 30_000);
