import { signInPerson, SignedInPerson } from '../../../test/support/signed-in-person.js';
import { problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

const at = (minute: number): string => new Date(Date.UTC(2030, 2, 4, 8, minute)).toISOString();

describe('a hold whose cause later facts take away', () => {
  let api: SpecApi;
  let quinn: SignedInPerson;
  let rita: SignedInPerson;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    quinn = await signInPerson(api.url, ADMIN_KEY, { name: 'quinn', roles: ['quality'] });
    rita = await signInPerson(api.url, ADMIN_KEY, { name: 'rita', roles: ['quality'] });
  });

  afterAll(() => api.close());

  const happen = async (...events: object[]): Promise<void> => {
    await api.ask('POST', '/v1/events', { body: events });
    await api.fold();
  };

  const holdOn = async (serial: string) => {
    const { body } = await quinn.call('GET', `/v1/holds?serial=${serial}&reason=sequence-broken`);
    const [hold] = body['items'] as { id: string; state: string; causeGone: boolean }[];
    if (hold === undefined) throw new Error('no hold was raised');
    return hold;
  };

  /** Twice removed: the book has not heard yet of what came between. */
  const twiceRemoved = async (serial: string): Promise<string> => {
    const subject = `BRD-1/${serial}`;
    await happen(
      sampleEvent('heatbook.unit.received.v1', {}, { subject, time: at(0) }),
      removalEvent({ subject, time: at(10) }),
      removalEvent({ subject, time: at(40) }),
    );
    return (await holdOn(serial)).id;
  };

  const hearOfTheRest = (serial: string): Promise<void> => {
    const subject = `BRD-1/${serial}`;
    const dressed = { refdes: 'U1', method: 'vacuum', solderAlloy: 'SAC305', passes: 2, contactSeconds: 6 };
    const profile = { name: 'REMOVE', revision: 'A' };
    const heat = {
      startedAt: at(28),
      endedAt: at(30),
      thermocouples: [{ id: 'tc1', refdes: 'U1', position: 'joint', peakC: 236 }],
    };
    const placed = { refdes: 'U1', device: `D-${serial}`, attach: 'flux', profile, heat };
    return happen(
      sampleEvent('heatbook.site.dressed.v1', dressed, { subject, time: at(20) }),
      sampleEvent('heatbook.device.placed.v1', placed, { subject, time: at(30) }),
    );
  };

  const release = (who: SignedInPerson, id: string) =>
    who.call('POST', `/v1/holds/${id}/release`, { note: 'No cause.', signature: who.signature() });

  it('is withdrawn where it was only assigned', async () => {
    const id = await twiceRemoved('K1');
    await quinn.call('PUT', `/v1/holds/${id}/assignment`, { assignee: 'quinn', dueAt: null });
    await hearOfTheRest('K1');
    expect(await holdOn('K1')).toMatchObject({ id, state: 'withdrawn', stage: 'closed' });
    expect((await release(quinn, id)).body).toEqual(problem('hold-not-open', 409));
  });

  it('can be released without a disposition where somebody had looked into it', async () => {
    const id = await twiceRemoved('K2');
    await quinn.call('POST', `/v1/holds/${id}/comments`, { text: 'Where was it placed?' });
    expect((await release(quinn, id)).body).toEqual(problem('disposition-needed', 409));
    await hearOfTheRest('K2');
    expect(await holdOn('K2')).toMatchObject({ id, state: 'open', causeGone: true });
    expect(await release(quinn, id)).toMatchObject({ status: 200, body: { release: { withoutCause: true } } });
  });

  it('is not decided about while its event is parked, and ends when that is annulled', async () => {
    const parked = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'NONE/K4' });
    await happen(parked);
    const { body } = await quinn.call('GET', '/v1/holds?reason=event-parked&serial=K4');
    const [hold] = body['items'] as { id: string }[];
    const id = String(hold?.id);
    const disposition = { decision: 'scrap', note: 'No such board.', signature: quinn.signature() };
    expect((await quinn.call('POST', `/v1/holds/${id}/dispositions`, disposition)).body).toMatchObject({
      type: 'urn:heatbook:problem:event-still-parked',
      detail: textLike(/retry it, or annul/),
    });
    expect((await release(rita, id)).body).toEqual(problem('event-still-parked', 409));
    const event = { source: parked['source'], id: parked['id'] };
    const annulled = await quinn.call('POST', '/v1/annulments', {
      event,
      note: 'Typed.',
      signature: quinn.signature(),
    });
    expect(annulled.status).toBe(201);
    expect((await quinn.call('GET', `/v1/holds/${id}`)).body).toMatchObject({ state: 'withdrawn' });
  });

  it('still takes two people where one had decided already', async () => {
    const id = await twiceRemoved('K3');
    const disposition = { decision: 'rework', note: 'Do it again.', signature: quinn.signature() };
    await quinn.call('POST', `/v1/holds/${id}/dispositions`, disposition);
    await hearOfTheRest('K3');
    expect(await holdOn('K3')).toMatchObject({ id, state: 'open', causeGone: true });
    expect((await release(quinn, id)).body).toEqual(problem('two-people-needed', 409));
    expect(await release(rita, id)).toMatchObject({ status: 200, body: { release: { withoutCause: false } } });
  });
});
