import { setImmediate } from 'node:timers/promises';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { dressed, events, placed, received, removed, Said, SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers, misplaceDevice, TwoCustomers } from '../support/two-customers.js';

/** Whatever names the other customer, or what is theirs. */
const OF_BIRCH = /Quillfeather|OTHER-BOARD|B-SERIAL|B-DEVICE/;
const OF_ALDER = /Thimblewick|TWO-SIDES|A-SERIAL/;

describe('a customer at the API', () => {
  let house: RunningHouse;
  let book: TwoCustomers;
  let alder: SignedInPerson;
  let birch: SignedInPerson;
  let nina: SignedInPerson;

  const unit = ({ assembly, serial }: typeof ALDER): string => `/v1/units/${assembly}/${serial}`;
  const get = async (person: SignedInPerson, path: string): Promise<Record<string, unknown>> => {
    const { status, body } = await person.call('GET', path);
    expect([path, status]).toEqual([path, 200]);
    return body;
  };
  const items = async (person: SignedInPerson, path: string): Promise<unknown[]> => {
    return (await get(person, path))['items'] as unknown[];
  };

  beforeAll(async () => {
    house = await runningHouse();
    book = await enterTwoCustomers(house);
    alder = await house.person('alice', ['customer'], ALDER.customer);
    birch = await house.person('bert', ['customer'], BIRCH.customer);
    nina = await house.person('nina', ['quality']);
    await nina.call('POST', `/v1/holds/${book.holds.alder}/comments`, { text: 'the customer must not read this' });
    await nina.call('PUT', `/v1/holds/${book.holds.alder}/assignment`, { assignee: 'nina', dueAt: null });
  });

  afterAll(() => house.close());

  it('sees their own units, with the ledger and the holds, and nobody else’s', async () => {
    expect(await items(alder, '/v1/units')).toEqual([expect.objectContaining({ assembly: ALDER.assembly })]);
    expect(await items(birch, '/v1/units')).toEqual([expect.objectContaining({ assembly: BIRCH.assembly })]);
    expect(await items(nina, '/v1/units')).toHaveLength(2);
    expect((await items(alder, `${unit(ALDER)}/ledger`)).length).toBeGreaterThan(8);
    expect(await items(alder, '/v1/holds')).toEqual([expect.objectContaining({ id: book.holds.alder })]);
    expect(await get(alder, '/v1/holds/summary')).toMatchObject({ open: 1, byCustomer: { [ALDER.customer]: 1 } });
    expect(await get(alder, `/v1/holds/${book.holds.alder}`)).toMatchObject({ id: book.holds.alder });
    for (const path of ['/v1/units', '/v1/holds', '/v1/holds/summary', unit(ALDER), `${unit(ALDER)}/audit`]) {
      expect(JSON.stringify(await get(alder, path))).not.toMatch(OF_BIRCH);
    }
  });

  it('is shown nothing by a filter for somebody else', async () => {
    for (const path of [
      `/v1/units?customer=${BIRCH.customer}`,
      `/v1/units?assembly=${BIRCH.assembly}`,
      `/v1/units?serial=${BIRCH.serial}`,
      `/v1/holds?customer=${BIRCH.customer}`,
      `/v1/holds?assembly=${BIRCH.assembly}`,
    ]) {
      expect([path, await items(alder, path)]).toEqual([path, []]);
    }
    expect(await get(alder, `/v1/holds/summary?customer=${BIRCH.customer}`)).toMatchObject({ open: 0, byReason: {} });
  });

  it('is told of what is another’s exactly what is told of what never was', async () => {
    const told = async (path: string): Promise<unknown> => {
      const { status, body } = await alder.call('GET', path);
      return { status, text: JSON.stringify({ ...body, instance: null }) };
    };
    const unknownHold = '00000000-0000-4000-8000-000000000000';
    for (const [foreign, unknown] of [
      [unit(BIRCH), unit({ ...BIRCH, serial: 'X-SERIAL' })],
      [`${unit(BIRCH)}/ledger`, `${unit({ ...BIRCH, serial: 'X-SERIAL' })}/ledger`],
      [`${unit(BIRCH)}/audit`, `${unit({ ...BIRCH, serial: 'X-SERIAL' })}/audit`],
      [`/v1/holds/${book.holds.birch}`, `/v1/holds/${unknownHold}`],
    ] as const) {
      const expected = JSON.stringify(await told(unknown)).replaceAll('X-SERIAL', BIRCH.serial);
      expect(JSON.stringify(await told(foreign))).toBe(expected.replaceAll(unknownHold, book.holds.birch));
      expect(expected).toContain('"status":404');
    }
  });

  it('sees nothing of how the house works on a hold, and is told that something is left out', async () => {
    const texts = await Promise.all(
      ['/v1/holds', `/v1/holds/${book.holds.alder}`, unit(ALDER), `${unit(ALDER)}/audit`, '/v1/holds/summary'].map(
        async (path) => JSON.stringify(await get(alder, path)),
      ),
    );
    for (const text of texts) expect(text).not.toMatch(/must not read this|nina/);
    expect(JSON.stringify(await get(nina, `/v1/holds/${book.holds.alder}`))).toMatch(/must not read this/);
    expect(await get(alder, unit(ALDER))).toMatchObject({
      view: { for: 'customer', leftOut: expect.arrayContaining([expect.stringContaining('comments')]) as unknown },
    });
    expect(await get(nina, unit(ALDER))).not.toHaveProperty('view');
  });

  it('exports an audit that can be checked, without the ledgers of devices', async () => {
    const document = await get(alder, `${unit(ALDER)}/audit`);
    expect(await verifyAudit(JSON.stringify(document), nodeDigests)).toMatchObject({ holds: true });
    expect(document).toMatchObject({ devices: [], audience: { for: 'customer' } });
    const { leftOut } = document['audience'] as { leftOut: string[] };
    for (const said of ['ledgers of devices', 'comments', 'concessions on devices', 'other customers']) {
      expect(leftOut).toContainEqual(expect.stringContaining(said));
    }
    const whole = await get(nina, `${unit(ALDER)}/audit`);
    expect(document['entries']).toEqual(whole['entries']);
    expect(whole['devices']).not.toEqual([]);
    expect(whole['audience']).toEqual({ for: 'house', leftOut: [] });
  });

  it('sees no unit of another where a device is found on two boards, on either side', async () => {
    await misplaceDevice(house);
    const conflict = (await items(birch, '/v1/holds?reason=identity-conflict'))[0];
    expect(JSON.stringify(conflict)).toContain('a unit of another customer');
    for (const path of ['/v1/holds', unit(BIRCH), `${unit(BIRCH)}/ledger`, `${unit(BIRCH)}/audit`]) {
      expect(JSON.stringify(await get(birch, path))).not.toMatch(OF_ALDER);
    }
    for (const path of ['/v1/holds', unit(ALDER), `${unit(ALDER)}/ledger?limit=500`, `${unit(ALDER)}/audit`]) {
      expect(JSON.stringify(await get(alder, path))).not.toMatch(OF_BIRCH);
    }
    const [site] = (await get(alder, unit(ALDER)))['sites'] as { refdes: string; device: string; disputed: boolean }[];
    expect(site).toMatchObject({ refdes: 'U7', device: ALDER.device, disputed: true });
  });

  it('sees nothing of another where a device has come from their board, held and conceded there', async () => {
    const moved = 'M-DEVICE';
    const later = (serial: string, subject: string, said: readonly Said[], from: number) =>
      events(
        serial,
        said.map((one, n) => ({ ...one, subject, minute: from + n })),
      );
    const there = { ...BIRCH, serial: 'B-SERIAL-2' };
    const here = { ...ALDER, serial: 'A-SERIAL-2' };
    const taken = [received(), removed({ device: moved, fate: 'keep' })];
    const placedHere = [received(), removed(), dressed(), placed(moved)];
    await house.post(later(there.serial, `${there.assembly}/${there.serial}`, taken, 700));
    const ada = await house.person('ada', ['approver']);
    const conceded = await ada.call('POST', '/v1/concessions', {
      ...{ subject: { kind: 'device', device: moved }, limit: 'device-excursions', allowed: 9 },
      ...{ customerReference: `${BIRCH.customer} 7`, note: 'agreed', signature: ada.signature() },
    });
    expect(conceded.status).toBe(201);
    await house.post(later(here.serial, `${here.assembly}/${here.serial}`, placedHere, 720));
    const at = (minute: number): string => new Date(Date.UTC(2026, 3, 1, 6, minute)).toISOString();
    const { body } = await nina.call('POST', '/v1/containments', {
      ...{ cause: { station: SHOP.bench, from: at(700), to: at(715) } },
      ...{ note: 'it ran hot', signature: nina.signature() },
    });
    const containment = `/v1/containments/${String(body['id'])}`;
    while ((await get(nina, containment))['state'] !== 'done') await setImmediate();
    const [held] = (await items(alder, `/v1/holds?serial=${here.serial}`)) as { id: string; evidence: object }[];
    expect(held?.evidence).toMatchObject({
      details: expect.arrayContaining([`through device ${moved}`, expect.stringContaining('elsewhere')]) as unknown,
    });
    const told = await items(nina, `${containment}/units`);
    expect(JSON.stringify(told)).toContain(`"ledger":"${there.assembly}/${there.serial}"`);
    const paths = [`/v1/holds/${String(held?.id)}`, unit(here), `${unit(here)}/ledger`, `${unit(here)}/audit`];
    for (const path of paths) expect(JSON.stringify(await get(alder, path))).not.toMatch(OF_BIRCH);
    const byNina = JSON.stringify(await get(nina, `/v1/holds/${String(held?.id)}`));
    expect(byNina).toContain(`"customerReference":"${BIRCH.customer} 7"`);
  });

  it('cannot be called like the house', async () => {
    const { body: design } = await house.call('GET', `/v1/assemblies/${ALDER.assembly}`);
    const { description, leadFree, assemblyReflows, sites } = design;
    const put = { customer: '*', description, leadFree, assemblyReflows, sites };
    const account = { name: 'star', printedName: 'Star', roles: ['customer'], customer: '*' };
    const errors: unknown[] = [expect.objectContaining({ pointer: '/customer' })];
    for (const answer of [
      await house.call('PUT', '/v1/assemblies/STARRED', put),
      await house.call('POST', '/v1/people', { ...account, password: 'quite long enough' }),
    ]) {
      expect(answer).toMatchObject({ status: 422, body: { errors } });
    }
  });

  it('loses sight of a unit with the assembly, at once', async () => {
    const { body: design } = await house.call('GET', `/v1/assemblies/${ALDER.assembly}`);
    const { description, leadFree, assemblyReflows, sites } = design;
    const ofNobody = { customer: 'Somebody else', description, leadFree, assemblyReflows, sites };
    expect((await house.call('PUT', `/v1/assemblies/${ALDER.assembly}`, ofNobody)).status).toBe(200);
    expect(await items(alder, '/v1/units')).toEqual([]);
    expect(await items(alder, '/v1/holds')).toEqual([]);
    expect((await alder.call('GET', unit(ALDER))).status).toBe(404);
  });
});
