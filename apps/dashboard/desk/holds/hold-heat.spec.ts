import { governedBy, heldHeats, verdictSubject } from './hold-heat.js';
import { bareHold, causeWith, entryWith } from './spec-support/bare-hold.js';

const verdict = (position: string, thermocouple: string, solidusC = 217) => ({
  alloy: solidusC === 217 ? 'SAC305' : 'Sn63Pb37',
  counts: true,
  guardBandC: 5,
  solidusC,
  reading: { peakC: 240, position, thermocouple, uncertaintyC: 1.5, uncertaintyFrom: 'station' },
});
const counted = (limit: string, subject: object, of: object) => ({
  kind: 'counted',
  limit,
  subject,
  count: { event: { source: '/stations/BENCH-1', id: '7' }, at: '', basis: 'measured', why: 'melted', verdict: of },
});
const SITE = { kind: 'site', assembly: 'A-1', serial: '0103', refdes: 'U7' };
const DEVICE = { kind: 'device', device: 'K-1' };

const heat = {
  startedAt: '2026-03-03T08:40:00Z',
  endedAt: '2026-03-03T08:46:00Z',
  thermocouples: [
    { id: 'T1', position: 'joint', peakC: 240 },
    { id: 'T2', position: 'body', peakC: 240 },
  ],
  trace: 'log-7',
};

describe('The heats that called for a hold', () => {
  const board = entryWith({
    data: { refdes: 'U7', heat },
    effects: [
      counted('device-excursions', DEVICE, verdict('body', 'T2')),
      counted('site-excursions', SITE, verdict('joint', 'T1', 183)),
    ],
  });
  const again = entryWith({
    subject: 'devices/K-1',
    type: 'heatbook.device.moved.v1',
    effects: [counted('device-excursions', DEVICE, verdict('body', 'T2'))],
  });
  const [first, ...others] = heldHeats(bareHold({ causes: [causeWith(board, again)] }));

  it('are told once, though the device tells them again', () => {
    expect(others).toEqual([]);
    expect(first).toMatchObject({ refdes: 'U7', trace: 'log-7' });
    expect(first?.verdicts.map(({ limit }) => limit)).toEqual(['site-excursions', 'device-excursions']);
  });

  it('have a line for each alloy, solidus less guard band, the lowest first', () => {
    expect(first?.lines.map(({ atC, alloy }) => [atC, alloy])).toEqual([
      [178, 'Sn63Pb37'],
      [212, 'SAC305'],
    ]);
  });

  it('know which reading decided for what', () => {
    expect(first && governedBy(first, 'T2').map(({ limit }) => limit)).toEqual(['device-excursions']);
  });

  it('call a device that came without a name after its site', () => {
    const nameOf = (device: string) => first && verdictSubject(first, { kind: 'device', device });
    expect(nameOf('A-1:0103:U7')).toBe('device on U7');
    expect(nameOf('K-1')).toBe('K-1');
  });

  it('are none where no event tells of heat', () => {
    expect(heldHeats(bareHold({ causes: [causeWith(entryWith({ data: { refdes: 'U7' } }))] }))).toEqual([]);
  });
});
