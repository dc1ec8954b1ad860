import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { HttpAnswer } from '../support/http-answer.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, SHOP } from '../support/small-shop.js';

const UNIT = `${SHOP.assembly}/0001`;
const OTHER = `${SHOP.assembly}/0002`;
const profile = { name: SHOP.profile, revision: 'A' };

/** One bad afternoon, from the breach to the lorry, with everybody doing their own part. */
describe('a session at the desk', () => {
  let shop: RunningHouse;
  let bench: string;
  let quality: SignedInPerson;
  let approver: SignedInPerson;
  let said = 0;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
    bench = String((await shop.call('POST', `/v1/stations/${SHOP.bench}/keys`)).body['key']);
    quality = await shop.person('quinn', ['quality']);
    approver = await shop.person('abel', ['approver']);
    // This customer lets a site be reworked once.
    const onceOnly = { kind: 'site-reworks', allowed: 1, unit: 'reworks', action: 'hold', source: 'Their drawing.' };
    await shop.call('PUT', '/v1/limits/once', { ...onceOnly, scope: { assembly: SHOP.assembly } });
    await receive(UNIT, 'D-1');
    await receive(OTHER, 'D-2');
  });

  afterAll(() => shop.close());

  /** The bench tells of what it has just done. */
  async function say(subject: string, type: string, data: object): Promise<void> {
    said += 1;
    const time = new Date().toISOString();
    const event = {
      specversion: '1.0',
      type,
      source: `/stations/${SHOP.bench}`,
      id: `s${String(said)}`,
      subject,
      time,
    };
    const answer = await shop.post([{ ...event, data: { operator: 'ann', ...data } }], bench);
    expect(answer.body).toMatchObject({ accepted: 1 });
  }

  function heatNow(): object {
    const now = new Date().toISOString();
    return { startedAt: now, endedAt: now, thermocouples: [{ id: 'T1', position: 'joint', peakC: 236 }] };
  }

  async function receive(unit: string, device: string): Promise<void> {
    await say(unit, 'heatbook.unit.received.v1', { sites: [{ refdes: 'U7', priorReworks: 0 }] });
    await say(unit, 'heatbook.unit.baked.v1', {
      temperatureC: 125,
      startedAt: new Date(Date.now() - 86_400_000).toISOString(),
      endedAt: new Date().toISOString(),
    });
    await say(`devices/${device}`, 'heatbook.device.received.v1', {
      part: SHOP.part,
      priorExcursions: 2,
      packSealedAt: new Date(Date.now() - 86_400_000).toISOString(),
    });
  }

  /** Plans taking the device on U7 off and putting this one on. */
  function plan(device: string, unit = UNIT): Promise<HttpAnswer> {
    const [assembly, serial] = unit.split('/');
    const steps = [
      { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap', profile },
      { type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum' },
      { type: 'heatbook.device.placed.v1', refdes: 'U7', device, profile },
    ];
    return shop.call('POST', '/v1/clearances', { assembly, serial, operator: 'ann', steps }, { key: bench });
  }

  async function replace(device: string, clearance: string, unit = UNIT): Promise<void> {
    const given = { refdes: 'U7', clearance };
    await say(unit, 'heatbook.device.removed.v1', { ...given, fate: 'scrap', profile, heat: heatNow() });
    await say(unit, 'heatbook.site.dressed.v1', {
      ...given,
      method: 'vacuum',
      solderAlloy: 'SAC305',
      passes: 2,
      contactSeconds: 6,
    });
    await say(unit, 'heatbook.device.placed.v1', { ...given, device, attach: 'flux', profile, heat: heatNow() });
  }

  async function inspect(unit: string): Promise<void> {
    const target = { kind: 'site', refdes: 'U7' };
    await say(unit, 'heatbook.inspection.recorded.v1', { target, technique: 'xray', result: 'pass' });
  }

  async function openHolds(unit: string): Promise<{ id: string; reason: string }[]> {
    const { body } = await shop.call('GET', `/v1/units/${unit}`);
    return body['holds'] as { id: string; reason: string }[];
  }

  async function holdFor(unit: string, reason: string): Promise<string> {
    const hold = (await openHolds(unit)).find((one) => one.reason === reason);
    if (hold === undefined) throw new Error(`no open hold ${reason} on ${unit}`);
    return hold.id;
  }

  async function decide(hold: string, decision: string, by = quality): Promise<HttpAnswer> {
    const note = `looked at, and decided: ${decision}`;
    return by.call('POST', `/v1/holds/${hold}/dispositions`, { decision, note, signature: by.signature(note) });
  }

  async function release(hold: string, by: SignedInPerson): Promise<HttpAnswer> {
    const note = 'done as decided, and inspected';
    return by.call('POST', `/v1/holds/${hold}/release`, { note, signature: by.signature(note) });
  }

  it('begins with an ordinary job under a clearance', async () => {
    for (const [unit, device] of [
      [UNIT, 'D-1'],
      [OTHER, 'D-2'],
    ] as const) {
      const granted = await plan(device, unit);
      expect(granted).toMatchObject({ status: 201, body: { state: 'granted' } });
      await replace(device, String(granted.body['id']), unit);
      await inspect(unit);
      expect(await openHolds(unit)).toEqual([]);
    }
  });

  it('goes wrong: a touch-up that nobody asked for takes the device over its limit', async () => {
    await say(UNIT, 'heatbook.site.heated.v1', { refdes: 'U7', purpose: 'touch-up', profile, heat: heatNow() });
    const holds = await openHolds(UNIT);
    expect(holds).toMatchObject([
      {
        reason: 'device-excursions',
        subject: { kind: 'device', device: 'D-1' },
        evidence: { used: 4, allowed: 3 },
        stage: 'new',
      },
    ]);
    const { body } = await shop.call('GET', `/v1/units/${UNIT}`);
    expect(body['warnings']).toContainEqual(expect.objectContaining({ code: 'clearance-required' }));
  });

  it('stops the next heat, with the hold as the reason and the way out', async () => {
    const hold = await holdFor(UNIT, 'device-excursions');
    const steps = [{ type: 'heatbook.site.heated.v1', refdes: 'U7', purpose: 'touch-up', profile }];
    const wish = { assembly: SHOP.assembly, serial: '0001', operator: 'ann', steps };
    const refused = await shop.call('POST', '/v1/clearances', wish, { key: bench });
    expect(refused).toMatchObject({ status: 409, body: { type: 'urn:heatbook:problem:clearance-refused' } });
    const reasons = refused.body['reasons'] as { hold?: string; remedy: string }[];
    expect(reasons.map((reason) => reason.hold)).toContain(hold);
    expect(reasons.every(({ remedy }) => remedy.length > 10)).toBe(true);
  });

  it('is looked into: assigned, commented, explained', async () => {
    const hold = await holdFor(UNIT, 'device-excursions');
    const dueAt = new Date(Date.now() + 3_600_000).toISOString();
    expect(await quality.call('PUT', `/v1/holds/${hold}/assignment`, { assignee: 'quinn', dueAt })).toMatchObject({
      status: 200,
      body: { assignee: 'quinn', stage: 'assigned' },
    });
    await quality.call('POST', `/v1/holds/${hold}/comments`, { text: 'Ann was shown a touch-up by mistake.' });
    const explained = await quality.call('GET', `/v1/holds/${hold}`);
    expect(explained.body).toMatchObject({
      comments: [{ by: 'quinn' }],
      evidence: { used: 4, allowed: 3 },
      causes: [{ source: `/stations/${SHOP.bench}`, entries: [{ type: 'heatbook.site.heated.v1' }] }],
    });
  });

  it('is contained: every board that the operator touched is held, after a look at which', async () => {
    const cause = {
      operator: 'ann',
      from: new Date(Date.now() - 600_000).toISOString(),
      to: new Date(Date.now() + 60_000).toISOString(),
    };
    const dry = await quality.call('POST', '/v1/containments', { cause, dryRun: true });
    expect(dry.status).toBe(200);
    expect(JSON.stringify(dry.body)).toContain('0001');
    expect(await openHolds(OTHER)).toEqual([]);

    const note = 'touch-ups without clearance';
    const begun = await quality.call('POST', '/v1/containments', { cause, note, signature: quality.signature(note) });
    expect(begun.status).toBe(202);
    const done = await until(
      () => quality.call('GET', `/v1/containments/${String(begun.body['id'])}`),
      ({ body }) => body['state'] === 'done',
    );
    expect(done.body).toMatchObject({ missed: 0 });
    for (const unit of [UNIT, OTHER]) {
      expect(await openHolds(unit)).toContainEqual(expect.objectContaining({ reason: 'by-hand' }));
    }
  });

  it('is decided: the device comes off, the other board is good', async () => {
    const hold = await holdFor(UNIT, 'device-excursions');
    expect(await decide(hold, 'rework')).toMatchObject({ status: 201, body: { stage: 'decided' } });
    expect(await decide(await holdFor(UNIT, 'by-hand'), 'rework', approver)).toMatchObject({ status: 201 });
    expect(await decide(await holdFor(OTHER, 'by-hand'), 'use-as-is', approver)).toMatchObject({ status: 201 });
  });

  it('needs an exception: the site was to be reworked once only', async () => {
    await say('devices/D-3', 'heatbook.device.received.v1', {
      part: SHOP.part,
      priorExcursions: 0,
      packSealedAt: new Date(Date.now() - 86_400_000).toISOString(),
    });
    expect(await plan('D-3')).toMatchObject({
      status: 409,
      body: { reasons: [{ code: 'site-reworks', used: 1, allowed: 1 }] },
    });
    const wish = {
      subject: { kind: 'site', assembly: SHOP.assembly, serial: '0001', refdes: 'U7' },
      limit: 'site-reworks',
      allowed: 2,
      customerReference: 'letter of today',
      note: 'one more, for the device that we spoilt',
    };
    const byQuality = { ...wish, signature: quality.signature('agreed') };
    expect(await quality.call('POST', '/v1/concessions', byQuality)).toMatchObject({ status: 403 });
    const signed = { ...wish, signature: approver.signature('agreed with the customer') };
    expect(await approver.call('POST', '/v1/concessions', signed)).toMatchObject({ status: 201 });
  });

  it('is reworked under the concession, and counted', async () => {
    const granted = await plan('D-3');
    expect(granted).toMatchObject({ status: 201 });
    await replace('D-3', String(granted.body['id']));
    await inspect(UNIT);
    expect((await openHolds(UNIT)).map(({ reason }) => reason).sort()).toEqual(['by-hand']);
    const { body } = await shop.call('GET', `/v1/units/${UNIT}`);
    expect(body['budgets']).toContainEqual(
      expect.objectContaining({
        limit: 'site-reworks',
        subject: wishedSite('0001'),
        used: 2,
        allowed: 2,
        reserved: 0,
      }),
    );
  });

  it('is released by somebody else than who decided', async () => {
    const hold = await holdOnDevice('D-1');
    expect(await release(hold, quality)).toMatchObject({
      status: 409,
      body: { type: 'urn:heatbook:problem:two-people-needed' },
    });
    expect(await release(hold, approver)).toMatchObject({ status: 200, body: { state: 'released' } });
    // Quinn raised the containment, so these take a third pair of eyes.
    const third = await shop.person('tess', ['quality']);
    for (const unit of [UNIT, OTHER]) {
      const contained = await holdFor(unit, 'by-hand');
      expect(await release(contained, quality)).toMatchObject({ status: 409 });
      expect(await release(contained, third)).toMatchObject({ status: 200 });
    }
    expect(await openHolds(UNIT)).toEqual([]);
  });

  it('ships with nothing open, and the ledger tells all of it', async () => {
    for (const unit of [UNIT, OTHER]) {
      await say(unit, 'heatbook.unit.shipped.v1', {});
      expect(await openHolds(unit)).toEqual([]);
      const audit = await fetch(`${shop.url}/v1/units/${unit}/audit?format=json`, {
        headers: { authorization: `Bearer ${shop.adminKey}` },
      });
      expect(await verifyAudit(await audit.text(), nodeDigests)).toMatchObject({ holds: true, findings: [] });
    }
    const { body } = await shop.call('GET', `/v1/units/${UNIT}/ledger?order=asc&limit=200`);
    const told = (body['items'] as { type: string }[]).map(({ type }) => type);
    for (const type of [
      'heatbook.clearance.granted.v1',
      'heatbook.hold.raised.v1',
      'heatbook.hold.disposed.v1',
      'heatbook.hold.released.v1',
      'heatbook.concession.signed.v1',
      'heatbook.unit.shipped.v1',
    ]) {
      expect(told).toContain(type);
    }
  });

  function wishedSite(serial: string): object {
    return { kind: 'site', assembly: SHOP.assembly, serial, refdes: 'U7' };
  }

  async function holdOnDevice(device: string): Promise<string> {
    const { body } = await shop.call('GET', `/v1/holds?state=open&device=${device}`);
    const [hold] = body['items'] as { id: string }[];
    if (hold === undefined) throw new Error(`no open hold on ${device}`);
    return hold.id;
  }
});

const PATIENCE_MS = 20_000;

/** Asks again until the answer holds. */
async function until(ask: () => Promise<HttpAnswer>, holds: (answer: HttpAnswer) => boolean): Promise<HttpAnswer> {
  const deadline = Date.now() + PATIENCE_MS;
  for (;;) {
    const answer = await ask();
    if (holds(answer)) return answer;
    if (Date.now() > deadline) throw new Error(`still ${JSON.stringify(answer.body)}`);
  }
}
