import { Cause } from '../../domain/holds/cause.js';
import { HoldRecord } from './hold-record.js';
import { addCauses, reconcileHolds } from './reconcile-holds.js';

const stamp = { now: '2031-03-03T12:00:00.000Z', newId: () => 'a-new-hold' };
const device = { kind: 'device', device: 'D1' } as const;

function cause(minute: number, summary = `seen at ${String(minute)}`): Cause {
  const event = {
    at: `2031-03-03T06:0${String(minute)}:00.000000000Z`,
    source: '/stations/HOT',
    id: `e${String(minute)}`,
  };
  return { reason: 'device-excursions', subject: device, event, evidence: { summary }, remedy: 'replace it' };
}

function open(...causes: readonly Cause[]): HoldRecord {
  const [hold] = addCauses([], causes, stamp).raised;
  if (hold === undefined) throw new Error('no hold was raised');
  return hold;
}

describe('holds and their causes', () => {
  it('are one while it is open, with the figures of the newest cause', () => {
    const { raised, changed } = addCauses([open(cause(1))], [cause(2)], stamp);
    expect(raised).toEqual([]);
    expect(changed).toMatchObject([{ causes: [{ id: 'e1' }, { id: 'e2' }], evidence: { summary: 'seen at 2' } }]);
  });

  it('keep the newest figures when an older cause comes late', () => {
    const { changed } = addCauses([open(cause(2))], [cause(1)], stamp);
    expect(changed).toMatchObject([{ causes: [{ id: 'e1' }, { id: 'e2' }], evidence: { summary: 'seen at 2' } }]);
  });

  it('are withdrawn when the last cause is gone, unless a person has worked on them', () => {
    expect(reconcileHolds([open(cause(1))], [], stamp).withdrawn).toMatchObject([{ state: 'withdrawn' }]);
    const touched = { ...open(cause(1)), touched: true };
    expect(reconcileHolds([touched], [], stamp)).toMatchObject({
      withdrawn: [],
      changed: [{ state: 'open', causeGone: true }],
    });
  });

  it('take on the figures that hold now, though no cause came or went', () => {
    const { changed } = reconcileHolds([open(cause(1))], [cause(1, 'seen again, and worse')], stamp);
    expect(changed).toMatchObject([{ evidence: { summary: 'seen again, and worse' } }]);
    expect(reconcileHolds([open(cause(1))], [cause(1)], stamp).changed).toEqual([]);
  });

  it('say why they stand once more, where that is something older than what they stood for before', () => {
    const decided = { ...open(cause(2)), touched: true, causeGone: true };
    const { changed } = reconcileHolds([decided], [cause(1)], stamp);
    expect(changed).toMatchObject([{ causeGone: false, evidence: { summary: 'seen at 1' } }]);
  });

  it('go to the unit on which their first cause came to light, as it is seen now', () => {
    const on = (serial: string): Partial<Cause> => ({
      unit: { assembly: 'BRD', serial },
      customer: `owner of ${serial}`,
    });
    const held = open({ ...cause(1), ...on('1') });
    const { changed } = reconcileHolds([held], [{ ...cause(1), ...on('2') }], stamp);
    expect(changed).toMatchObject([{ id: held.id, unit: { serial: '2' }, customer: 'owner of 2' }]);
    const loose = reconcileHolds([held], [cause(1), { ...cause(2), ...on('2') }], stamp).changed;
    expect(loose).toMatchObject([{ unit: null, customer: null, causes: [{ id: 'e1' }, { id: 'e2' }] }]);
  });

  it('are raised anew after a release, for a new cause only', () => {
    const released = {
      ...open(cause(1)),
      state: 'released',
      release: {
        by: 'ann',
        at: stamp.now,
        note: 'ok',
        signature: { by: 'ann', named: 'a1', at: stamp.now, meaning: 'released', contentHash: 'ab' },
        approved: false,
        withoutCause: false,
      },
    } as const;
    expect(addCauses([released], [cause(1)], stamp).raised).toEqual([]);
    expect(addCauses([released], [cause(2)], stamp).raised).toMatchObject([{ state: 'open', causes: [{ id: 'e2' }] }]);
    expect(reconcileHolds([released], [cause(1)], stamp).raised).toEqual([]);
    // Released because the cause was gone: once it is back after all, nobody has decided about it.
    const baseless = { ...released, causeGone: true, release: { ...released.release, withoutCause: true } };
    expect(reconcileHolds([baseless], [cause(1)], stamp)).toMatchObject({
      raised: [{ state: 'open', causes: [{ id: 'e1' }] }],
      changed: [],
    });
    expect(reconcileHolds([baseless], [], stamp)).toEqual({ raised: [], changed: [], withdrawn: [] });
  });
});
