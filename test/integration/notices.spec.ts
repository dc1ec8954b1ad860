import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { Notice, noticeKey, noticeState } from '../../libs/ledger/notices/notice.js';
import { NoticeDeps, raiseNotices } from '../../libs/ledger/notices/raise-notices.js';
import { sampleHold } from '../../libs/ledger/ports/book-samples.contract.js';
import { OperatorData, SetupData, SetupKind } from '../../libs/domain/setup/setup-data.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { lookAtClocks } from '../../libs/ledger/notices/moisture-deadlines.js';
import { boardDesign, partData } from '../support/domain-rules.js';

const HOUR_MS = 3_600_000;
const ORIGIN_MS = Date.UTC(2026, 3, 1);

/** So many hours after 1 April. */
function at(hours: number): string {
  return new Date(ORIGIN_MS + hours * HOUR_MS).toISOString();
}

/** A book whose timer is driven by hand. */
class NoticeBench {
  hours = 0;
  private events = 0;

  constructor(readonly book: BookHarness) {}

  static async open(make: () => Promise<BookHarness>): Promise<NoticeBench> {
    const bench = new NoticeBench(await make());
    await bench.revise('part', 'CHIP', partData());
    await bench.revise('assembly', 'BRD', boardDesign());
    return bench;
  }

  /** A worker that has just been started: it has seen nothing of the setup yet. */
  worker(): NoticeDeps {
    const { reads, notices, setupStore } = this.book;
    const clock = { now: () => at(this.hours) };
    return { reads, notices, setup: new SetupBook(setupStore), clock, newId: randomUUID };
  }

  /** Runs the timer, in new workers, so many hours after the origin. */
  async runAt(hours: number, workers = 1): Promise<number> {
    this.hours = hours;
    const raised = await Promise.all(Array.from({ length: workers }, () => raiseNotices(this.worker())));
    return raised.reduce((sum, count) => sum + count, 0);
  }

  async revise<K extends SetupKind>(kind: K, name: string, body: SetupData[K]): Promise<void> {
    await this.book.setupStore.revise(kind, name, body, 'quinn');
  }

  station(dueAtHours: number): Promise<void> {
    return this.revise('station', 'HOT', { kind: 'hot-gas', calibrationDueAt: at(dueAtHours) });
  }

  async tell(type: string, subject: string, hours: number, data: object): Promise<void> {
    this.events += 1;
    const source = '/stations/HOT';
    const event = { specversion: '1.0', type, source, id: `e${String(this.events)}`, subject, time: at(hours), data };
    const { rejected } = await this.book.post([event]);
    expect(rejected).toBe(0);
    await this.book.fold();
  }

  receive(hours: number): Promise<void> {
    return this.tell('heatbook.unit.received.v1', 'BRD/1', hours, {});
  }

  /** 48 h at 125 C: enough for the parts of the board whatever they took up. */
  bake(subject: string, endHours: number): Promise<void> {
    const type = subject.startsWith('devices/') ? 'heatbook.device.baked.v1' : 'heatbook.unit.baked.v1';
    const data = { temperatureC: 125, startedAt: at(endHours - 48), endedAt: at(endHours) };
    return this.tell(type, subject, endHours, data);
  }

  async all(): Promise<readonly Notice[]> {
    return (await this.book.notices.list({}, { limit: 500, cursor: null })).items;
  }

  /** Each notice as `kind item level state`, with hours of its instant and of its raising. */
  async told(): Promise<string[]> {
    const hours = (time: string): string => String((Date.parse(time) - ORIGIN_MS) / HOUR_MS);
    return (await this.all()).map((notice) => {
      const { kind, level, dueAt, raisedAt } = notice;
      return `${kind} ${level} of ${hours(dueAt)} raised ${hours(raisedAt)} ${noticeState(notice)}`;
    });
  }
}

const DAY = 24;

function describeNotices(name: string, make: () => Promise<BookHarness>): void {
  describe(`notices: ${name}`, () => {
    let bench: NoticeBench;
    beforeEach(async () => {
      bench = await NoticeBench.open(make);
    });
    afterEach(() => bench.book.close());

    it('warn of a calibration a week ahead and when it is due', async () => {
      await bench.station(30 * DAY);
      expect(await bench.runAt(23 * DAY - 0.01)).toBe(0);
      expect(await bench.runAt(23 * DAY)).toBe(1);
      expect(await bench.told()).toEqual(['calibration ahead of 720 raised 552 open']);
      expect(await bench.runAt(30 * DAY - 0.01)).toBe(0);
      expect(await bench.runAt(30 * DAY)).toBe(1);
      expect((await bench.told()).sort()).toEqual([
        'calibration ahead of 720 raised 552 settled',
        'calibration due of 720 raised 720 open',
      ]);
      const [due] = (await bench.book.notices.list({ level: 'due' }, { limit: 1, cursor: null })).items;
      expect(due?.subject).toEqual({ kind: 'station', station: 'HOT' });
      expect(due?.remedy).toContain('Calibrate HOT');
    });

    it('warn of each qualification two weeks ahead and when it runs out', async () => {
      const qualifications: OperatorData['qualifications'] = [
        { skill: 'vacuum', validUntil: at(20 * DAY) },
        { skill: 'removal', validUntil: at(20 * DAY) },
        { skill: 'removal', validUntil: at(40 * DAY) },
        { skill: 'placement', validUntil: at(20 * DAY) },
      ];
      await bench.revise('operator', 'ann', { qualifications });
      await bench.runAt(6 * DAY - 0.01);
      expect(await bench.told()).toEqual([]);
      expect(await bench.runAt(6 * DAY)).toBe(2);
      expect((await bench.all()).map(({ item }) => item).sort()).toEqual(['placement', 'vacuum']);
      expect(await bench.runAt(20 * DAY)).toBe(2);
      const due = (await bench.book.notices.list({ level: 'due', state: 'open' }, { limit: 9, cursor: null })).items;
      expect(due.map(({ subject }) => subject)).toEqual([
        { kind: 'operator', operator: 'ann' },
        { kind: 'operator', operator: 'ann' },
      ]);
    });

    it('warn of the floor life of a board with a fifth of it left, and when it has run out', async () => {
      await bench.receive(0);
      await bench.bake('BRD/1', 48);
      // MSL 3: 168 h from the end of the bake.
      expect(await bench.runAt(216 - 33.61)).toBe(0);
      expect(await bench.runAt(216 - 33.6)).toBe(1);
      expect(await bench.told()).toEqual(['moisture ahead of 216 raised 182.4 open']);
      expect(await bench.runAt(216)).toBe(1);
      const [due] = (await bench.book.notices.list({ state: 'open' }, { limit: 9, cursor: null })).items;
      expect(due).toMatchObject({ kind: 'moisture', level: 'due', dueAt: at(216) });
      expect(due?.subject).toEqual({ kind: 'unit', assembly: 'BRD', serial: '1' });
    });

    it('warn of the floor life of a loose device', async () => {
      await bench.tell('heatbook.device.received.v1', 'devices/N1', 0, { part: 'CHIP', packSealedAt: at(-1000) });
      await bench.runAt(1000);
      expect(await bench.told()).toEqual([]);
      await bench.tell('heatbook.exposure.started.v1', 'devices/N1', 1000, {
        storage: 'open',
        ambientC: 30,
        relativeHumidityPct: 60,
      });
      await bench.runAt(1168);
      expect(await bench.told()).toEqual(['moisture due of 1168 raised 1168 open']);
      expect((await bench.all())[0]?.subject).toEqual({ kind: 'device', device: 'N1' });
    });

    it('warn of nothing where an ordinary job is done in time', async () => {
      await bench.station(400 * DAY);
      await bench.receive(0);
      await bench.bake('BRD/1', 48);
      await bench.runAt(100);
      await bench.tell('heatbook.unit.shipped.v1', 'BRD/1', 120, {});
      await bench.runAt(1000);
      expect(await bench.told()).toEqual([]);
    });

    it('warn of an open hold past its date, once for each date', async () => {
      const hold = sampleHold('h1', { dueAt: at(10), assignee: 'quinn' });
      const write = (holds: readonly (typeof hold)[]): Promise<void> =>
        bench.book.deps.store.exclusively((tx) =>
          tx.write({ subjects: [], entries: [], holds, done: [], parked: [], postponed: [] }),
        );
      await write([hold]);
      expect(await bench.runAt(9.99)).toBe(0);
      expect(await bench.runAt(10)).toBe(1);
      expect(await bench.runAt(11)).toBe(0);
      await write([{ ...hold, dueAt: at(20) }]);
      await bench.runAt(12);
      expect(await bench.told()).toEqual(['hold-overdue due of 10 raised 10 settled']);
      await bench.runAt(21);
      expect(await bench.told()).toEqual([
        'hold-overdue due of 10 raised 10 settled',
        'hold-overdue due of 20 raised 21 open',
      ]);
      await write([{ ...hold, dueAt: at(20), state: 'withdrawn' }]);
      await bench.runAt(22);
      expect((await bench.told())[1]).toBe('hold-overdue due of 20 raised 21 settled');
    });

    it('tell only that it is due where nobody was up at either instant, and when it was raised in truth', async () => {
      await bench.station(30 * DAY);
      await bench.revise('operator', 'ann', { qualifications: [{ skill: 'vacuum', validUntil: at(31 * DAY) }] });
      await bench.receive(0);
      await bench.bake('BRD/1', 48);
      expect(await bench.runAt(40 * DAY)).toBe(3);
      expect(await bench.told()).toEqual([
        'moisture due of 216 raised 960 open',
        'calibration due of 720 raised 960 open',
        'qualification due of 744 raised 960 open',
      ]);
    });

    it('are raised once by many workers at once, and by one that is started again', async () => {
      await bench.station(30 * DAY);
      await bench.revise('operator', 'ann', { qualifications: [{ skill: 'vacuum', validUntil: at(31 * DAY) }] });
      await bench.receive(0);
      await bench.bake('BRD/1', 48);
      expect(await bench.runAt(25 * DAY, 4)).toBe(3);
      expect(await bench.runAt(25 * DAY, 4)).toBe(0);
      expect(await bench.runAt(40 * DAY, 4)).toBe(2);
      expect(await bench.runAt(41 * DAY)).toBe(0);
      expect(await bench.all()).toHaveLength(5);
    });

    it('are settled where their instant is moved, and given anew for the new one', async () => {
      await bench.station(30 * DAY);
      await bench.revise('operator', 'ann', { qualifications: [{ skill: 'vacuum', validUntil: at(30 * DAY) }] });
      await bench.receive(0);
      await bench.bake('BRD/1', 30 * DAY - 168);
      await bench.runAt(30 * DAY);
      expect(await bench.told()).toHaveLength(3);
      await bench.station(60 * DAY);
      await bench.revise('operator', 'ann', { qualifications: [{ skill: 'vacuum', validUntil: at(60 * DAY) }] });
      await bench.bake('BRD/1', 32 * DAY);
      await bench.runAt(33 * DAY);
      expect((await bench.told()).sort()).toEqual([
        'calibration due of 720 raised 720 settled',
        'moisture due of 720 raised 720 settled',
        'qualification due of 720 raised 720 settled',
      ]);
      await bench.runAt(59 * DAY);
      expect((await bench.told()).filter((line) => line.endsWith('open')).sort()).toEqual([
        'calibration ahead of 1440 raised 1416 open',
        'moisture due of 936 raised 1416 open',
        'qualification ahead of 1440 raised 1416 open',
      ]);
    });

    it('read a clock anew where its part was revised: a warning too early, but none that is false', async () => {
      await bench.receive(0);
      await bench.bake('BRD/1', 48);
      await bench.runAt(200);
      // Level 2a has four weeks.
      await bench.revise('part', 'CHIP', partData({ msl: '2a' }));
      expect(await bench.runAt(216)).toBe(0);
      expect(await bench.told()).toEqual(['moisture ahead of 216 raised 200 settled']);
      expect(await bench.runAt(48 + 672)).toBe(1);
      expect((await bench.told())[1]).toBe('moisture due of 720 raised 720 open');
    });

    it('find every clock that runs by what the fold wrote, and no other', async () => {
      const { book } = bench;
      const { setup, posts } = makeDemo();
      for (const { kind, name: record, body } of setup) await book.setupStore.revise(kind, record, body, 'demo');
      const events = posts.flatMap((post) => post.events.filter(({ expected }) => expected === 'accepted'));
      // Some stay in the house.
      const kept = events.filter(({ event }) => !JSON.stringify(event).includes('heatbook.unit.shipped.v1'));
      for (let from = 0; from < kept.length; from += 100) {
        await book.post(kept.slice(from, from + 100).map(({ event }) => event));
        await book.fold();
      }
      await book.deps.setup.catchUp();
      const everAfter = '2999-01-01T00:00:00Z';
      const found = await book.notices.clocksDue({ now: everAfter, after: null, limit: 5000 });
      const units = (await book.reads.units({}, { limit: 500, cursor: null })).items;
      const keys = [...units.map(({ assembly, serial }) => `${assembly}/${serial}`), ...found];
      const looks = await lookAtClocks(book.reads, [...new Set(keys)], book.deps.setup.latest(), everAfter);
      const running = looks.flatMap(({ record, clock }) => (clock === null ? [] : [record.key]));
      expect(running.length).toBeGreaterThan(20);
      expect([...found].sort()).toEqual(running.sort());
    }, 60_000);

    it('are acknowledged without being raised again', async () => {
      await bench.station(30 * DAY);
      await bench.runAt(25 * DAY);
      const [notice] = await bench.all();
      await bench.book.notices.acknowledge(notice?.id ?? '', { by: 'quinn', at: at(25 * DAY), note: null });
      expect(await bench.runAt(26 * DAY)).toBe(0);
      expect(await bench.told()).toEqual(['calibration ahead of 720 raised 600 acknowledged']);
    });
  });
}

describeNotices('memory', memoryHarness);
describeNotices('Postgres', postgresHarness);

type Step = { readonly run: number; readonly workers: number } | { readonly due: number } | { readonly bake: true };

describe('notices under any sequence of runs and moves', () => {
  const step = fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({ run: fc.integer({ min: 1, max: 200 }), workers: fc.integer({ min: 1, max: 3 }) }),
    },
    { weight: 1, arbitrary: fc.record({ due: fc.integer({ min: -100, max: 500 }) }) },
    { weight: 1, arbitrary: fc.constant({ bake: true } as const) },
  );

  it('are given exactly once for an instant and a level, never late by a run, and stand only for what still holds', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array<Step>(step, { maxLength: 12 }), async (steps) => {
        const bench = await NoticeBench.open(memoryHarness);
        let now = 100;
        let due = 400;
        let ranOut: number | null = null;
        await bench.station(due);
        await bench.receive(now);
        for (const one of steps) {
          if ('due' in one) {
            due = now + one.due;
            await bench.station(due);
          } else if ('bake' in one) {
            now += 48;
            ranOut = now + 168;
            await bench.bake('BRD/1', now);
          } else {
            now += one.run;
            await bench.runAt(now, one.workers);
            const standing = (await bench.told()).filter((line) => !line.endsWith('settled'));
            const levelOf = (instant: number, leadHours: number): string[] =>
              now >= instant ? ['due'] : now >= instant - leadHours ? ['ahead'] : [];
            const wanted = [
              ...levelOf(due, 7 * DAY).map((level) => `calibration ${level} of ${String(due)}`),
              ...(ranOut === null
                ? []
                : levelOf(ranOut, 33.6).map((level) => `moisture ${level} of ${String(ranOut)}`)),
            ];
            expect(standing.map((line) => line.replace(/ raised.*/, '')).sort()).toEqual(wanted.sort());
          }
        }
        const keys = (await bench.all()).map(noticeKey);
        expect(new Set(keys).size).toBe(keys.length);
        await bench.book.close();
      }),
      { numRuns: 60 },
    );
  });
});
