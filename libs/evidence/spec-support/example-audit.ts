import { SampleHouse, sampleSigner, type AuditDocument2 } from './sample-house.js';

const UNIT = 'DEMO-100/SN-1';
const RECEIVED_AT = '2026-03-02T08:15:30.250Z';

/** The house of the worked example in docs/audit-format.md: two entries of one unit, then a census. */
export async function exampleHouse(): Promise<SampleHouse> {
  const house = new SampleHouse(sampleSigner(1, 'heatbook/example'), 'heatbook/example');
  house.write(UNIT, {
    ...{ type: 'heatbook.unit.received.v1', time: '2026-03-02T09:15:30+01:00', recordedAt: RECEIVED_AT },
    ...{ event: { source: '/stations/dress-1', id: 'evt-1' }, actor: { station: 'dress-1' } },
    data: { note: 'café, 5 °C' },
  });
  house.write(UNIT, {
    ...{ type: 'heatbook.site.dressed.v1', time: '2026-03-02T09:40:00+01:00', recordedAt: '2026-03-02T08:40:00.250Z' },
    ...{ event: { source: '/stations/dress-1', id: 'evt-2' }, actor: { station: 'dress-1' } },
    ...{
      data: { refdes: 'U7', method: 'braid', contactSeconds: 3.5 },
      effects: [{ limit: 'site-dressings', used: 1 }],
    },
  });
  await house.census('2026-03-02');
  return house;
}

/** The file of the worked example. */
export async function exampleAudit(): Promise<AuditDocument2> {
  return (await exampleHouse()).audit(UNIT);
}
