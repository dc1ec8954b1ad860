import { serveApi } from '../../apps/api/serve-api.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

/** What people look around with, on a book in Postgres. */
let house: RunningHouse;

beforeAll(async () => {
  house = await runningHouse();
  await enterTwoCustomers(house);
}, 60_000);

afterAll(() => house.close());

const namesOf = ({ body }: { body: Record<string, unknown> }): string[] =>
  (body['items'] as { kind: string; name: string }[]).map(({ kind, name }) => `${kind} ${name}`);

it('finds a unit for whom it belongs to and for the house, and for nobody else', async () => {
  const alder = await house.person('search-alder', ['customer'], ALDER.customer);
  const birch = await house.person('search-birch', ['customer'], BIRCH.customer);
  const unit = `unit ${ALDER.assembly}/${ALDER.serial}`;
  for (const q of [`${ALDER.assembly} ${ALDER.serial}`, ALDER.serial.toLowerCase()]) {
    const path = `/v1/search?q=${encodeURIComponent(q)}`;
    expect(namesOf(await house.call('GET', path))).toContain(unit);
    expect(namesOf(await alder.call('GET', path))).toContain(unit);
    expect(namesOf(await birch.call('GET', path))).not.toContain(unit);
  }
  expect(namesOf(await alder.call('GET', `/v1/search?q=${SHOP.bench}`))).toEqual([]);
  expect(namesOf(await house.call('GET', `/v1/search?q=${SHOP.bench}`))).toContain(`station ${SHOP.bench}`);
});

it('has written by the time that it stops when it heard a station', async () => {
  const before = Date.now();
  const api = await serveApi(house.house, { host: '127.0.0.1', port: 0, adminKey: undefined });
  const { status } = await fetch(`${api.url}/v1/events`, {
    method: 'POST',
    headers: { authorization: `Bearer ${house.adminKey}`, 'content-type': 'application/cloudevents+json' },
    body: JSON.stringify({
      ...{
        specversion: '1.0',
        id: 'heard',
        source: `/stations/${SHOP.bench}`,
        subject: `${ALDER.assembly}/${ALDER.serial}`,
      },
      ...{
        type: 'heatbook.site.cleaned.v1',
        time: '2026-06-01T08:00:00+02:00',
        data: { refdes: 'U7', agent: 'water' },
      },
    }),
  });
  expect(status).toBe(202);
  await api.close();
  const { body } = await house.call('GET', `/v1/station-reports/${SHOP.bench}`);
  expect(body).toMatchObject({ station: SHOP.bench, lastEventTime: '2026-06-01T06:00:00.000Z' });
  expect(Date.parse(String(body['lastHeardAt']))).toBeGreaterThanOrEqual(before);
});

it('tells which units went over a bench', async () => {
  const path = `/v1/stations/${SHOP.bench}/units?from=2026-01-01T00:00:00Z&to=2027-01-01T00:00:00Z`;
  const { body } = await house.call('GET', path);
  const { items } = body as { items: { assembly: string; serial: string; customer: string }[] };
  for (const { assembly, serial, customer } of [ALDER, BIRCH]) {
    expect(items).toContainEqual(expect.objectContaining({ assembly, serial, customer }));
  }
});
