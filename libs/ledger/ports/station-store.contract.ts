import { number, STATION } from './book-bench.contract.js';
import { sampleHold, UNKNOWN_ASSEMBLY } from './book-samples.contract.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

/** What every store of stations must do. `make` gives an empty book each time. */
export function describeStationStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`station store: ${name}`, () => {
    const bench = useBench(make, seal);
    const nothing = {
      ...{ lastHeardAt: null, lastEventTime: null, pending: 0, oldestPendingAt: null, parked: 0, openHolds: 0 },
    };

    it('answers for every station that is asked about, in order, whatever is known of it', async () => {
      expect(await bench().stations.standings(['b', 'a'])).toEqual([
        { station: 'b', ...nothing },
        { station: 'a', ...nothing },
      ]);
      expect(await bench().stations.standings([])).toEqual([]);
    });

    it('keeps the latest of what it is told, in whatever order', async () => {
      const { stations } = bench();
      const contact = (station: string, heardAt: string, eventTime: string) => ({ station, heardAt, eventTime });
      await stations.heard([
        contact('a', '2026-03-02T09:00:00.500Z', '2026-03-02T09:59:00+01:00'),
        contact('a', '2026-03-02T09:00:00.250Z', '2026-03-02T08:58:00Z'),
        contact('b', '2026-03-02T09:00:00.000Z', '2026-03-01T00:00:00Z'),
      ]);
      await stations.heard([contact('a', '2026-03-02T08:00:00.000Z', '2026-03-02T08:59:30.0001Z')]);
      await stations.heard([]);
      expect(await stations.standings(['a', 'b'])).toEqual([
        {
          station: 'a',
          ...nothing,
          lastHeardAt: '2026-03-02T09:00:00.500Z',
          lastEventTime: '2026-03-02T08:59:30.000Z',
        },
        {
          station: 'b',
          ...nothing,
          lastHeardAt: '2026-03-02T09:00:00.000Z',
          lastEventTime: '2026-03-01T00:00:00.000Z',
        },
      ]);
    });

    it('counts what waits, what is parked and what is held of each', async () => {
      const station = STATION.slice('/stations/'.length);
      await bench().book.accept([
        bench().incoming('1'),
        bench().incoming('2', 'BRD-1/0002'),
        bench().incoming('3', 'BRD-1/0003'),
        bench().incoming('other', 'BRD-1/0001', 'as seen', `${STATION}0`),
      ]);
      await bench().settle((events) => ({
        parked: events
          .filter(({ event }) => event.order.id === '2')
          .map((event) => ({ number: number(event), reason: UNKNOWN_ASSEMBLY })),
        done: events.filter(({ event }) => event.order.id === '3').map(number),
      }));
      await bench().write({
        holds: [
          sampleHold('h1', { station }),
          sampleHold('h2', { station, reason: 'by-hand' }),
          sampleHold('h3', { station, state: 'withdrawn', reason: 'late-event' }),
          sampleHold('h4', { station: null, reason: 'damage-found' }),
        ],
      });
      const [own, other] = await bench().stations.standings([station, `${station}0`]);
      expect(own).toMatchObject({ pending: 1, parked: 1, openHolds: 2, lastHeardAt: null });
      expect(Date.parse(own?.oldestPendingAt ?? '')).not.toBeNaN();
      expect(other).toMatchObject({ pending: 1, parked: 0, openHolds: 0 });
    });
  });
}
