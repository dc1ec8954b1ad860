import { RunningHouse, runningHouse } from '../../../test/support/running-house.js';
import { enterShop, events, ordinaryJob, removed, SHOP } from '../../../test/support/small-shop.js';

describe('annulments', () => {
  let shop: RunningHouse;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
  });

  afterAll(() => shop.close());

  const event = (id: string): object => ({ source: `/stations/${SHOP.bench}`, id });

  it('take a wrong step back over HTTP, signed by the person who asks', async () => {
    const quality = await shop.person('q-1', ['quality']);
    // The removal was posted twice, as if it had been two.
    await shop.post(events('0001', [...ordinaryJob('D-1').slice(0, 3), removed(), ...ordinaryJob('D-1').slice(3)]));
    const unit = await shop.call('GET', `/v1/units/${SHOP.assembly}/0001`);
    const reasons = (unit.body['holds'] as { reason: string }[]).map(({ reason }) => reason);
    expect(reasons.sort()).toEqual(['sequence-broken', 'shipped-open']);

    const body = {
      event: event('0001-3'),
      note: 'sent twice by the bench',
      signature: quality.signature('sent twice'),
    };
    const done = await quality.call('POST', '/v1/annulments', body);
    expect(done).toMatchObject({
      status: 201,
      body: {
        entry: { subject: `${SHOP.assembly}/0001` },
      },
    });
    const holds = done.body['holds'] as { reason: string; state: string }[];
    expect(holds.map(({ reason, state }) => `${reason} ${state}`).sort()).toEqual([
      'sequence-broken withdrawn',
      'shipped-open withdrawn',
    ]);
    const after = await shop.call('GET', `/v1/units/${SHOP.assembly}/0001`);
    expect(after.body.holds).toEqual([]);

    const again = await quality.call('POST', '/v1/annulments', body);
    expect(again).toMatchObject({ status: 409, body: { type: 'urn:heatbook:problem:already-annulled' } });
    const told = await shop.call('GET', `/v1/events?source=/stations/${SHOP.bench}&id=0001-3`);
    expect(told.body.entries).toHaveLength(2);
  });

  it('are refused to keys, to the wrong password and for what was never said', async () => {
    const quality = await shop.person('q-2', ['quality']);
    const body = { event: event('0001-2'), note: 'no', signature: quality.signature('no') };
    expect(await shop.call('POST', '/v1/annulments', body)).toMatchObject({ status: 403 });
    const wrong = { ...body, signature: { password: 'something else entirely', meaning: 'no' } };
    expect(await quality.call('POST', '/v1/annulments', wrong)).toMatchObject({
      status: 403,
      body: { type: 'urn:heatbook:problem:wrong-password' },
    });
    const never = { ...body, event: event('never') };
    expect(await quality.call('POST', '/v1/annulments', never)).toMatchObject({ status: 404 });
  });
});
