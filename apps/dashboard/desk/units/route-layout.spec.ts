import { aCount, anEntry } from './entry-samples.js';
import { ledgerStory } from './ledger-story.js';
import { routeLayout } from './route-layout.js';
import { routeSteps } from './route-steps.js';

const site = { kind: 'site', refdes: 'U7' };

function entry(seq: number, hhmm: string, type: string, data: object, effects: object[] = []) {
  const event = { source: '/stations/S', id: `e${seq}` };
  return anEntry({ seq, type: `heatbook.${type}.v1`, time: `2026-03-03T${hhmm}:00Z`, event, data, effects });
}

function laid(...entries: ReturnType<typeof entry>[]) {
  return routeLayout(routeSteps(ledgerStory(entries)), ({ id }) => id);
}

const received = entry(1, '06:00', 'unit.received', { workOrder: 'WO-1' });
const heat = { startedAt: '2026-03-03T08:00:00Z', endedAt: '2026-03-03T08:10:00Z', thermocouples: [] };
const removed = entry(2, '08:12', 'device.removed', { refdes: 'U7', fate: 'keep', heat }, [
  aCount('site-excursions', site, 'measured'),
  aCount('site-reworks', site, 'removal'),
  { ...aCount('device-excursions', { kind: 'device', device: 'K-2' }, 'near'), kind: 'possible' },
]);

describe('The steps of a route', () => {
  it('are placed on the lane of their site, as heat, bake, work or paper, from when to when', () => {
    const bake = { temperatureC: 105, startedAt: '2026-03-02T18:00:00Z', endedAt: '2026-03-03T05:00:00Z' };
    const dressed = { refdes: 'U7', method: 'braid', passes: 3, solderAlloy: 'SAC305', contactSeconds: 4 };
    const steps = routeSteps(
      ledgerStory([
        received,
        removed,
        entry(3, '05:00', 'unit.baked', bake),
        entry(4, '08:20', 'site.dressed', dressed),
        { ...entry(5, '08:30', 'hold.raised', {}), event: null },
      ]),
    );
    expect(steps.map(({ seq, lane, kind, word, detail }) => [seq, lane, kind, word, detail])).toEqual([
      [3, 'Board', 'bake', 'Bake', '105 °C, 11 h'],
      [1, 'Board', 'work', 'Received', 'WO-1'],
      [2, 'U7', 'heat', 'Removed', 'kept'],
      [4, 'U7', 'heat', 'Dressed', 'braid, 3×'],
      [5, 'Board', 'paper', 'Hold raised', ''],
    ]);
  });

  it('carry the excursions that they cost, and none once struck', () => {
    const struck = { ...removed, seq: 9, type: 'heatbook.entry.annulled.v1', effects: [] };
    expect(routeSteps(ledgerStory([removed]))[0]).toMatchObject({ counted: 1, possible: 1, struck: false });
    expect(routeSteps(ledgerStory([removed, struck]))[0]).toMatchObject({ counted: 0, possible: 0, struck: true });
  });
});

describe('The layout of a route', () => {
  it('says how long nothing happened where that was long, from the end of a step to the beginning of the next', () => {
    const { columns } = laid(received, removed, entry(3, '10:00', 'site.cleaned', { refdes: 'U7' }));
    expect(columns.map((column) => (column.kind === 'pause' ? column.lengthMs : column.step.seq))).toEqual([1, 2, 3]);
    const later = laid(received, entry(3, '10:00', 'site.cleaned', { refdes: 'U7' })).columns;
    expect(later[1]).toEqual({ kind: 'pause', lengthMs: 4 * 3_600_000 });
  });

  it('has the board’s lane first and sites by number', () => {
    const cleaned = ['U10', 'U2'].map((refdes, n) => entry(n + 2, '07:00', 'site.cleaned', { refdes }));
    expect(laid(received, ...cleaned).lanes).toEqual(['Board', 'U2', 'U10']);
  });

  const raised = (hold: string, refdes = 'U7') => {
    return { kind: 'hold-raised', hold, reason: 'damage-found', subject: { kind: 'site', refdes } };
  };

  it('draws a hold from where it was raised to where it was released, and an open one to the end', () => {
    const { spanRows } = laid(
      entry(1, '06:00', 'site.cleaned', { refdes: 'U7' }, [raised('a')]),
      entry(2, '06:10', 'site.cleaned', { refdes: 'U7' }, [raised('b', 'U8')]),
      entry(3, '06:20', 'hold.released', {}, [{ ...raised('a'), kind: 'hold-released' }]),
      entry(4, '06:30', 'site.cleaned', { refdes: 'U7' }),
    );
    expect(spanRows.map((row) => row.map(({ hold, from, to, open }) => [hold, from, to, open]))).toEqual([
      [['a', 0, 2, false]],
      [['b', 1, 3, true]],
    ]);
    expect(spanRows[0]?.[0]?.label).toBe('Damage found, U7');
  });

  it('joins what calls for a hold that is open, and begins another once that was released', () => {
    const { spanRows } = laid(
      entry(1, '06:00', 'site.cleaned', { refdes: 'U7' }, [raised('a')]),
      entry(2, '06:10', 'site.cleaned', { refdes: 'U7' }, [raised('a')]),
      entry(3, '06:20', 'hold.released', {}, [{ ...raised('a'), kind: 'hold-released' }]),
      entry(4, '06:30', 'site.cleaned', { refdes: 'U7' }, [raised('b')]),
    );
    const spans = spanRows.flat().map(({ hold, from, to, open }) => [hold, from, to, open]);
    expect(spans).toEqual([
      ['a', 0, 2, false],
      ['b', 3, 3, true],
    ]);
  });

  it('draws a clearance over the steps that it covers, and as a step of its own while it covers none', () => {
    const granted = (id: string) => ({ kind: 'clearance-granted', clearance: id, reserves: [] });
    const used = (id: string) => ({ kind: 'clearance-used', clearance: id, step: 0, event: {} });
    const { columns, spanRows } = laid(
      entry(1, '06:00', 'clearance.granted', {}, [granted('c')]),
      entry(2, '06:10', 'site.cleaned', { refdes: 'U7' }, [used('c')]),
      entry(3, '06:15', 'site.cleaned', { refdes: 'U7' }, [used('c')]),
      entry(4, '06:20', 'clearance.granted', {}, [granted('d')]),
    );
    expect(columns.map((column) => column.kind === 'step' && column.step.seq)).toEqual([2, 3, 4]);
    expect(spanRows.flat().map(({ key, from, to }) => [key, from, to])).toEqual([['c', 0, 1]]);
  });
});
