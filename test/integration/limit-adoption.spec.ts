import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { heat, ofDevice, onUnit, said, tc } from '../support/domain-events.js';
import { LimitShop, subjectsIn } from '../support/limit-shop.js';
import { runningHouse } from '../support/running-house.js';
import { enterShop, events, received, removed } from '../support/small-shop.js';

const hot = { heat: heat(tc('joint', 236), tc('die', 236)) };
const board = onUnit('BRD/1');
const other = onUnit('ALT/1');
const inHouse = (unit: ReturnType<typeof onUnit>, times: number) => [
  unit.received({
    priorReflows: 0,
    devices: ['U1', 'U2', 'U3', 'U4'].map((refdes) => ({ refdes, priorExcursions: 0 })),
  }),
  ...Array.from({ length: times }, () => unit.heated('U1', hot)),
];
const CAME_WITH = 'devices/BRD:1:U1';

describe.each([
  ['in memory', memoryHarness],
  ['on Postgres', postgresHarness],
])('a revision of a limit, %s', (_, make) => {
  let harness: BookHarness;
  let shop: LimitShop;

  beforeEach(async () => {
    harness = await make();
    shop = await LimitShop.open(harness);
  });
  afterEach(async () => {
    await harness.close();
  });

  it('holds what it finds in breach, and says since when and by whom', async () => {
    await shop.tell(...inHouse(board, 2), ...inHouse(other, 1));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    await shop.recheck();
    const [hold, ...more] = await shop.holds();
    expect(more).toEqual([]);
    expect(hold).toMatchObject({
      state: 'open',
      reason: 'device-excursions',
      subject: { device: 'BRD:1:U1' },
      unit: { assembly: 'BRD', serial: '1' },
      customer: 'NORTH',
      raisedBy: null,
      causes: [{ source: '/book/limits', id: 'device-excursions@2' }],
      evidence: { used: 2, allowed: 1, limit: { name: 'device-excursions', revision: 2 } },
    });
    expect(hold?.evidence.summary).toMatch(/revision 2.*in force from 20.*entered by ben/);
  });

  it('says nothing of what its own facts were judged by: that was never kept until then', async () => {
    await shop.revise('for-north', 'device-excursions', { allowed: 1, scope: { customer: 'NORTH' } });
    await shop.tell(...inHouse(board, 2));
    await shop.recheck();
    const [hold, ...more] = await shop.holds();
    expect(more).toEqual([]);
    expect(hold).toMatchObject({ state: 'open', evidence: { limit: { name: 'for-north', revision: 1 } } });
    expect(hold?.evidence.summary).not.toContain('kept until then');
    expect(await shop.causes()).not.toContainEqual(expect.stringContaining('/book/limits'));
  });

  it('tells it in each ledger that changed and in no other', async () => {
    await shop.tell(...inHouse(board, 2), ...inHouse(other, 1));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    await shop.recheck();
    expect(await shop.rechecks('ALT/1')).toEqual([]);
    expect(await shop.rechecks('BRD/1')).toMatchObject([
      {
        event: null,
        actor: { kind: 'book' },
        data: {
          limit: 'device-excursions',
          revision: 2,
          by: 'ben',
          changes: [
            { subject: { device: 'BRD:1:U1' }, before: { used: 2, allowed: 3 }, after: { allowed: 1, breach: 'hold' } },
          ],
        },
        effects: [{ kind: 'hold-called' }],
      },
    ]);
  });

  it('withdraws what is no longer in breach, or marks it where a person has worked on it', async () => {
    await shop.tell(...inHouse(board, 4), ...inHouse(other, 4));
    const [first] = await shop.holds();
    if (first === undefined) throw new Error('nothing is held');
    await shop.book.deps.store.exclusively((tx) =>
      tx.write({
        subjects: [],
        entries: [],
        holds: [{ ...first, touched: true }],
        done: [],
        parked: [],
        postponed: [],
      }),
    );
    await shop.revise('device-excursions', 'device-excursions', { allowed: 5 });
    await shop.recheck();
    const states = (await shop.holds()).map(({ state, causeGone }) => `${state} ${String(causeGone)}`).sort();
    expect(states).toEqual(['open true', 'withdrawn false']);
    const kinds = [...(await shop.rechecks('BRD/1')), ...(await shop.rechecks('ALT/1'))].flatMap(({ effects }) =>
      effects.map((effect) => (effect as { kind: string }).kind),
    );
    expect(kinds.sort()).toEqual(['hold-cause-gone', 'hold-withdrawn']);
  });

  it('leaves alone what has left the house', async () => {
    await shop.tell(...inHouse(board, 2), board.shipped(), ...inHouse(other, 2), other.scrapped());
    const before = await shop.desk();
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    await shop.recheck();
    expect(await shop.desk()).toEqual(before);
  });

  it('reaches loose devices, unless its scope names what they are not on', async () => {
    await shop.tell(ofDevice('D9').received({ priorExcursions: 2 }));
    await shop.revise('tight', 'device-excursions', { allowed: 1, scope: { assembly: 'BRD' } });
    await shop.recheck();
    expect(await shop.desk()).toEqual([]);
    await shop.revise('for-chips', 'device-excursions', { allowed: 1, scope: { part: 'CHIP' } });
    await shop.recheck();
    expect(await shop.desk()).toEqual(['open device-excursions devices/D9']);
    expect(await shop.rechecks('devices/D9')).toHaveLength(1);
  });

  it('warns where it only warns', async () => {
    await shop.tell(...inHouse(board, 2));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1, action: 'warn' });
    await shop.recheck();
    expect(await shop.desk()).toEqual([]);
    const record = await shop.book.reads.subject(CAME_WITH);
    expect(record?.state?.kind === 'device' ? record.state.state.warnings : []).toMatchObject([
      { code: 'device-excursions', count: 1 },
    ]);
  });

  it('is gone through once, however often it is asked for', async () => {
    await shop.tell(...inHouse(board, 2));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    await Promise.all([shop.recheck(), shop.recheck()]);
    await shop.recheck();
    expect(await shop.rechecks('BRD/1')).toHaveLength(1);
    expect(await shop.desk()).toEqual(['open device-excursions devices/BRD:1:U1']);
    const [progress] = await shop.book.reads.limitRechecks('device-excursions');
    expect(progress).toMatchObject({ state: 'done', revision: 2, subjects: 4, holdsRaised: 1, holdsWithdrawn: 0 });
  });

  it('survives that a page was written and its progress was lost', async () => {
    await shop.tell(...inHouse(board, 2));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    const [waiting] = await shop.book.deps.store.rechecksDue('2031-03-04T00:00:00Z');
    if (waiting === undefined) throw new Error('nothing is due');
    await shop.recheck();
    await shop.book.deps.store.exclusively((tx) =>
      tx.write({ subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [], recheck: waiting }),
    );
    await shop.recheck();
    expect(await shop.rechecks('BRD/1')).toHaveLength(1);
    expect((await shop.holds()).map(({ causes }) => causes.length)).toEqual([1]);
  });

  it('stops when told to, and goes on later', async () => {
    await shop.tell(...inHouse(board, 2));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 1 });
    await shop.recheck(() => true);
    expect(await shop.desk()).toEqual([]);
    await shop.recheck();
    expect(await shop.desk()).toHaveLength(1);
  });

  it('says why nothing is judged anew', async () => {
    await shop.revise('flatness-max', 'flatness-max', { allowed: 0.05 });
    await shop.recheck();
    expect(await shop.book.reads.limitRechecks('flatness-max')).toMatchObject([
      { state: 'none', why: expect.stringContaining('ledgers') as string },
    ]);
  });
});

describe('a revision of a limit that takes effect later', () => {
  const FROM = '2031-03-05T00:00:00Z';
  let harness: BookHarness;
  let shop: LimitShop;

  beforeEach(async () => {
    harness = await memoryHarness();
    shop = await LimitShop.open(harness);
    await shop.tell(...inHouse(board, 2));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 2, effectiveFrom: FROM });
  });
  afterEach(async () => {
    await harness.close();
  });

  it('judges what happens before by the revision before, and what happens then by itself', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T23:59:59.999Z' }));
    expect(await shop.desk()).toEqual([]);
    await shop.tell(
      said(board.heated('U2', hot), { time: FROM }),
      said(board.heated('U2', hot), { time: '2031-03-05T01:00:00Z' }),
    );
    expect(await shop.desk()).toEqual([]);
    await shop.tell(said(board.heated('U2', hot), { time: '2031-03-05T02:00:00Z' }));
    expect(await shop.desk()).toEqual(['open device-excursions devices/BRD:1:U2']);
  });

  it('is gone through when the time has come, not before', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' }));
    await shop.recheck();
    expect(await shop.desk()).toEqual([]);
    shop.setClock('2031-03-05T00:00:01Z');
    await shop.recheck();
    expect(await shop.desk()).toEqual(['open device-excursions devices/BRD:1:U1']);
  });

  it('is not gone through where another took its place before', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' }));
    await shop.revise('device-excursions', 'device-excursions', { allowed: 4, effectiveFrom: '2031-03-04T21:00:00Z' });
    shop.setClock('2031-03-06T00:00:00Z');
    await shop.recheck();
    expect(await shop.desk()).toEqual([]);
    expect(await shop.book.reads.limitRechecks('device-excursions')).toMatchObject([
      { revision: 3, state: 'done' },
      { revision: 2, state: 'none', why: expect.stringContaining('later revision') as string },
    ]);
  });

  it('finds a breach by facts from before that come in after, once', async () => {
    shop.setClock('2031-03-05T00:00:01Z');
    await shop.recheck();
    expect(await shop.desk()).toEqual([]);
    const late = said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' });
    await shop.tell(late);
    expect(await shop.desk()).toEqual(['open device-excursions devices/BRD:1:U1']);
    expect(await shop.rechecks('BRD/1')).toMatchObject([{ data: { revision: 2, changes: [{ after: { used: 3 } }] } }]);
    await shop.recheck();
    expect(await shop.rechecks('BRD/1')).toHaveLength(1);
  });

  it('takes its hold back where facts from before show that there was no breach', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' }));
    shop.setClock('2031-03-05T00:00:01Z');
    await shop.recheck();
    expect(await shop.desk()).toEqual(['open device-excursions devices/BRD:1:U1']);
    // The device that was heated so often had been taken off before.
    await shop.tell(said(board.removed('U1', { ...hot, fate: 'keep' }), { time: '2031-03-03T06:01:30Z' }));
    expect(await shop.desk('device-excursions')).toEqual(['withdrawn device-excursions devices/BRD:1:U1']);
    expect(await shop.rechecks('BRD/1')).toHaveLength(2);
  });

  it('keeps what it called for when a story is told again', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' }));
    shop.setClock('2031-03-05T00:00:01Z');
    await shop.recheck();
    const before = await shop.causes();
    await shop.tell(said(board.cleaned('U4'), { time: '2031-03-03T06:01:30Z' }));
    expect(await shop.causes()).toEqual(before);
    expect(await shop.desk('device-excursions')).toEqual(['open device-excursions devices/BRD:1:U1']);
    expect(await shop.rechecks('BRD/1')).toHaveLength(1);
  });

  it('is shown by what-if as of that time', async () => {
    await shop.tell(said(board.heated('U1', hot), { time: '2031-03-04T20:00:00Z' }));
    const shown = await shop.whatIf('device-excursions', 'device-excursions', { allowed: 5 });
    expect([shown.newlyInBreach.total, shown.noLongerInBreach.total]).toEqual([0, 0]);
    const later = await shop.whatIf('device-excursions', 'device-excursions', { allowed: 5, effectiveFrom: FROM });
    expect(subjectsIn(later.noLongerInBreach)).toEqual([CAME_WITH]);
  });
});

describe('in a running house', () => {
  it('a limit that is put over HTTP is gone through by the worker', async () => {
    const house = await runningHouse();
    try {
      await enterShop(house);
      await house.post(events('0001', [received(), removed()]));
      const body = { kind: 'site-reworks', allowed: 0, unit: 'reworks', action: 'hold', source: 'Agreed' };
      expect((await house.call('PUT', '/v1/limits/site-reworks', body)).status).toBe(200);
      const state = async (): Promise<unknown> => (await house.call('GET', '/v1/limits/site-reworks')).body.recheck;
      const deadline = Date.now() + 20_000;
      let recheck = await state();
      while (!/"state":"done"/.test(JSON.stringify(recheck)) && Date.now() < deadline) recheck = await state();
      expect(recheck).toMatchObject({ state: 'done', revision: 2, subjects: 1, holdsRaised: 1 });
      expect((await house.call('GET', '/v1/holds?reason=site-reworks')).body).toMatchObject({
        items: [{ subject: { kind: 'site', serial: '0001', refdes: 'U7' }, evidence: { used: 1, allowed: 0 } }],
      });
    } finally {
      await house.close();
    }
  }, 60_000);
});
