import { EventRef } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { deviceState } from './book-samples.contract.js';
import { GENESIS_HASH, Seal, SealedEntry } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const UNIT = 'BRD-1/0001';
const DAY = { from: '2026-03-02T00:00:00.000000Z', to: '2026-03-03T00:00:00.000000Z' };

/** What every search of ledgers must do. `make` gives an empty book each time. */
export function describeLedgerSearch(name: string, make: MakeStores, seal: Seal): void {
  describe(`ledger search: ${name}`, () => {
    const bench = useBench(make, seal);

    const fact = async (
      id: string,
      time: string,
      { subject = UNIT, station = 'HG-1', type = 'heatbook.site.cleaned.v1', data = {}, effects = [] as object[] } = {},
    ): Promise<SealedEntry> => {
      const event: EventRef = { source: `/stations/${station}`, id };
      const [entry] = await bench().append(subject, 1, { type, time, event, data, effects, actor: {} });
      if (entry === undefined) throw new Error('nothing was appended');
      return entry;
    };
    const found = async (mark: string, interval = DAY, limit = 10): Promise<string[]> =>
      (await bench().search.factsMarked({ mark }, interval, limit)).map(
        ({ subject, event }) => `${subject} ${event.id}`,
      );

    it('finds facts of a mark by ledger and sequence, with where they stand', async () => {
      await fact('1', '2026-03-02T10:00:00+01:00', { subject: 'BRD-1/0002' });
      const own = await fact('2', '2026-03-02T08:00:00.1234567Z');
      await fact('3', '2026-03-02T08:00:00Z', { station: 'HG-11' });
      expect(await bench().search.factsMarked({ mark: 'station HG-1' }, DAY, 10)).toEqual([
        {
          ...{ subject: UNIT, seq: own.seq, type: own.type, at: '2026-03-02T08:00:00.123456Z' },
          event: { source: '/stations/HG-1', id: '2' },
        },
        {
          ...{ subject: 'BRD-1/0002', seq: 1, type: own.type, at: '2026-03-02T09:00:00.000000Z' },
          event: { source: '/stations/HG-1', id: '1' },
        },
      ]);
      expect(await found('station HG-1', DAY, 1)).toEqual([`${UNIT} 2`]);
    });

    it('takes the beginning of an interval and leaves its end, to the microsecond', async () => {
      await fact('before', '2026-03-01T23:59:59.9999999Z');
      await fact('first', '2026-03-02T00:00:00Z');
      await fact('last', '2026-03-03T00:59:59.999999999+01:00');
      await fact('after', '2026-03-03T00:00:00.0000004Z');
      expect(await found('station HG-1')).toEqual([`${UNIT} first`, `${UNIT} last`]);
    });

    it('finds every mark that begins with a text, and none that only looks like it', async () => {
      const time = '2026-03-02T08:00:00Z';
      const of = (profile: string, revision: string) => ({ data: { profile: { name: profile, revision } } });
      await fact('A', time, of('UP', 'A'));
      await fact('z', time, of('UP', 'z-9'));
      await fact('other', time, of('UPP', 'A'));
      const rows = await bench().search.factsMarked({ prefix: 'profile UP@' }, DAY, 10);
      expect(rows.map(({ event }) => event.id)).toEqual(['A', 'z']);
    });

    it('leaves out what is annulled, in every ledger that tells of it, and the annulment', async () => {
      const time = '2026-03-02T08:00:00Z';
      await fact('1', time);
      await fact('1', time, { subject: 'devices/N1', type: 'heatbook.device.moved.v1' });
      await fact('2', time);
      await fact('1', time, { type: 'heatbook.entry.annulled.v1' });
      expect(await found('station HG-1')).toEqual([`${UNIT} 2`]);
      const within = await bench().search.factsWithin(DAY, { after: null, limit: 10 });
      expect(within.map(({ event }) => event?.id)).toEqual(['2']);
    });

    it('pages through the facts of an interval without a mark', async () => {
      for (const id of ['1', '2', '3']) await fact(id, `2026-03-02T0${id}:00:00Z`);
      await bench().append(UNIT);
      await fact('4', '2026-03-04T08:00:00Z');
      const ids: string[] = [];
      for (let after: { subject: StreamKey; seq: number } | null = null; ;) {
        const some: readonly SealedEntry[] = await bench().search.factsWithin(DAY, { after, limit: 2 });
        ids.push(...some.map(({ event }) => String(event?.id)));
        const last = some.at(-1);
        if (last === undefined || some.length < 2) break;
        after = { subject: last.subject, seq: last.seq };
      }
      expect(ids).toEqual(['1', '2', '3']);
    });

    it('finds the ledgers that say of which part or lot a device is, also where it was judged so later', async () => {
      const opened = (part: string) => ({ kind: 'device-opened', device: 'N1', part, place: null });
      await fact('1', '2026-03-02T08:00:00Z', { effects: [opened('CHIP')] });
      await fact('2', '2026-03-02T08:00:00Z', { subject: 'devices/N2', data: { part: 'CHIP', lot: 'L 1' } });
      const changes = [{ event: { source: '/stations/HG-1', id: '1' }, effects: [opened('OTHER')] }];
      await bench().append('BRD-1/0003', 1, { type: 'heatbook.entry.rejudged.v1', data: { changes } });
      const { search } = bench();
      expect(await search.ledgersMarked(['part CHIP'], 10)).toEqual([UNIT, 'devices/N2']);
      expect(await search.ledgersMarked(['part OTHER', 'device-lot L 1'], 10)).toEqual(['BRD-1/0003', 'devices/N2']);
      expect(await search.ledgersMarked(['part CHIP'], 1)).toEqual([UNIT]);
      expect(await search.ledgersMarked(['part NONE'], 10)).toEqual([]);
    });

    it('says where devices are, and nothing of what is none', async () => {
      await fact('1', '2026-03-02T08:00:00Z', { subject: 'devices/N1' });
      await fact('2', '2026-03-02T08:00:00Z');
      const place = { assembly: 'BRD-1', serial: '0001', refdes: 'U7' };
      const state = { ...deviceState('N2'), status: 'mounted', place } as const;
      await bench().write({
        subjects: [{ key: 'devices/N2', state: { kind: 'device', state }, headSeq: 0, headHash: GENESIS_HASH }],
      });
      expect(await bench().search.whereabouts(['devices/N2', 'devices/N1', UNIT, 'devices/none'])).toEqual([
        { key: 'devices/N1', status: 'loose', unit: null },
        { key: 'devices/N2', status: 'mounted', unit: UNIT },
      ]);
    });

    it('counts what an account signed with its printed name, and not what it signed by commitment', async () => {
      const signed = (by: string, name: object) => ({ data: { signature: { by, ...name, contentHash: 'ab' } } });
      const type = 'heatbook.hold.released.v1';
      await bench().append(UNIT, 2, { type, ...signed('ann', { printedName: 'Ann Miller' }) });
      await bench().append(UNIT, 1, { type, ...signed('ann', { named: 'a1' }) });
      await bench().append(UNIT, 1, { type: 'heatbook.entry.annulled.v1', ...signed('bob', { printedName: 'Bob' }) });
      const { search } = bench();
      const counted = await Promise.all(['ann', 'bob', 'cid'].map((by) => search.signedInClear(by)));
      expect(counted).toEqual([2, 1, 0]);
    });

    it('reads ledgers and subjects by key', async () => {
      await fact('1', '2026-03-02T08:00:00Z', { subject: 'BRD-1/0002' });
      await fact('2', '2026-03-02T08:00:00Z');
      await fact('3', '2026-03-02T08:00:00Z');
      const { search } = bench();
      const entries = await search.entriesOf(['BRD-1/0002', UNIT, 'BRD-1/none']);
      expect(entries.map(({ subject, seq }) => `${subject} ${seq}`)).toEqual([
        `${UNIT} 1`,
        `${UNIT} 2`,
        'BRD-1/0002 1',
      ]);
      expect((await search.subjectsOf(['BRD-1/0002', 'BRD-1/none', UNIT])).map(({ key }) => key)).toEqual([
        UNIT,
        'BRD-1/0002',
      ]);
    });
  });
}
