import { seal } from '../../../libs/evidence/seal.js';
import { signInPerson, SignedInPerson } from '../../../test/support/signed-in-person.js';
import { anyText, problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent, stationKey } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

interface DeskHold {
  readonly id: string;
  readonly version: string;
  readonly actions: readonly { action: string; allowed: boolean; why: string | null }[];
}

interface Entry {
  readonly type: string;
  readonly data: { signed: object; signature: { contentHash: string }; note?: string };
}

describe('the hold desk', () => {
  let api: SpecApi;
  let quinn: SignedInPerson;
  let rita: SignedInPerson;
  let ada: SignedInPerson;
  let otto: SignedInPerson;
  let serials = 0;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    await api.ask('PUT', '/v1/operators/OP-1', { body: { qualifications: [] } });
    await api.ask('PUT', '/v1/profiles/P/revisions/A', {
      body: { purpose: 'removal', alloy: 'SAC305', neighbourPeaks: [] },
    });
    quinn = await signInPerson(api.url, ADMIN_KEY, { name: 'quinn', roles: ['quality'] });
    rita = await signInPerson(api.url, ADMIN_KEY, { name: 'rita', roles: ['quality'] });
    ada = await signInPerson(api.url, ADMIN_KEY, { name: 'ada', roles: ['approver'] });
    otto = await signInPerson(api.url, ADMIN_KEY, { name: 'otto', roles: ['operator'] });
  });

  afterAll(() => api.close());

  const newUnit = async (): Promise<string> => {
    serials += 1;
    const serial = `D${String(serials)}`;
    const key = await receiver();
    await api.ask('POST', '/v1/events', {
      key,
      body: sampleEvent('heatbook.unit.received.v1', {}, { subject: `BRD-1/${serial}` }),
      type: 'application/cloudevents+json',
    });
    await api.fold();
    return serial;
  };
  let key: string | undefined;
  const receiver = async (): Promise<string> => (key ??= await stationKey(api, 'HG-1'));

  /** A hold that the rules raise: a removal of a device where there is none any more. */
  const ruleHold = async (): Promise<DeskHold> => {
    const serial = await newUnit();
    const subject = `BRD-1/${serial}`;
    const body = [removalEvent({ subject }), removalEvent({ subject })];
    await api.ask('POST', '/v1/events', { key: await receiver(), body, type: 'application/cloudevents-batch+json' });
    await api.fold();
    const { body: page } = await quinn.call('GET', `/v1/holds?serial=${serial}&reason=sequence-broken`);
    const [hold] = page['items'] as DeskHold[];
    if (hold === undefined) throw new Error('no hold was raised');
    return hold;
  };

  const dispose = (who: SignedInPerson, id: string, decision = 'rework') =>
    who.call('POST', `/v1/holds/${id}/dispositions`, { decision, note: 'Looked at it.', signature: who.signature() });
  const release = (who: SignedInPerson, id: string) =>
    who.call('POST', `/v1/holds/${id}/release`, { note: 'Done.', signature: who.signature('checked and released') });

  it('takes a hold from new to closed by two people, each act signed in the ledger', async () => {
    const { id } = await ruleHold();
    expect(await release(rita, id)).toMatchObject({ status: 409, body: problem('disposition-needed', 409) });
    const disposed = await dispose(quinn, id);
    expect(disposed).toMatchObject({
      status: 201,
      body: { state: 'open', stage: 'decided', decision: 'rework', dispositions: [{ signature: { by: 'quinn' } }] },
    });
    expect(await release(quinn, id)).toMatchObject({ status: 409, body: problem('two-people-needed', 409) });
    const released = await release(rita, id);
    expect(released).toMatchObject({
      status: 200,
      body: {
        state: 'released',
        stage: 'closed',
        release: {
          by: 'rita',
          note: 'Done.',
          approved: false,
          withoutCause: false,
          signature: {
            printedName: 'rita in print',
            named: textLike(/^[0-9a-f]{64}$/),
            meaning: 'checked and released',
            contentHash: textLike(/^[0-9a-f]{64}$/),
          },
        },
      },
    });
    expect((await release(ada, id)).body).toEqual(problem('hold-not-open', 409));
    expect((await dispose(ada, id)).body).toEqual(problem('hold-not-open', 409));
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    const entries = body['entries'] as Entry[];
    expect(entries.map(({ type }) => type)).toEqual(['heatbook.hold.disposed.v1', 'heatbook.hold.released.v1']);
  });

  it('lets an auditor work out again what a signature is over, and any change shows', async () => {
    const { id } = await ruleHold();
    await dispose(quinn, id, 'scrap');
    await release(rita, id);
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    const entries = body['entries'] as Entry[];
    expect(entries).toHaveLength(2);
    for (const { data } of entries) {
      expect(seal.sha256Hex(seal.canonical(data.signed))).toBe(data.signature.contentHash);
      expect(seal.sha256Hex(seal.canonical({ ...data.signed, note: 'other' }))).not.toBe(data.signature.contentHash);
    }
    expect(entries[0]?.data.signed).toEqual({
      act: 'dispose',
      disposition: anyText,
      hold: id,
      reason: 'sequence-broken',
      subject: body['subject'],
      decision: 'scrap',
      approved: false,
      note: 'Looked at it.',
      by: 'quinn',
      named: textLike(/^[0-9a-f]{64}$/),
      meaning: 'seen and decided',
      at: anyText,
    });
    expect(entries[1]?.data.signed).toMatchObject({ act: 'release', decision: 'scrap', by: 'rita', note: 'Done.' });
  });

  it('takes an approver among the two for use as is', async () => {
    const { id } = await ruleHold();
    await dispose(quinn, id, 'use-as-is');
    expect((await release(rita, id)).body).toMatchObject({ type: 'urn:heatbook:problem:approver-needed', status: 409 });
    expect((await release(ada, id)).status).toBe(200);
    const other = await ruleHold();
    await dispose(ada, other.id, 'use-as-is');
    expect((await release(ada, other.id)).body).toEqual(problem('two-people-needed', 409));
    expect((await release(rita, other.id)).status).toBe(200);
  });

  it('goes by the last of several decisions', async () => {
    const { id } = await ruleHold();
    await dispose(quinn, id, 'use-as-is');
    expect((await dispose(rita, id, 'repair')).body).toMatchObject({ decision: 'repair' });
    expect((await release(rita, id)).body).toEqual(problem('two-people-needed', 409));
    expect((await release(quinn, id)).status).toBe(200);
  });

  it('signs nothing for a wrong password, a key, or somebody without the role', async () => {
    const { id } = await ruleHold();
    const body = { decision: 'rework', note: 'x', signature: { password: 'not the password', meaning: 'decided' } };
    expect((await quinn.call('POST', `/v1/holds/${id}/dispositions`, body)).body).toEqual(
      problem('wrong-password', 403),
    );
    expect((await dispose(otto, id)).body).toEqual(problem('not-allowed', 403));
    expect((await api.ask('POST', `/v1/holds/${id}/dispositions`, { body })).body).toEqual(problem('not-allowed', 403));
    const unsigned = await quinn.call('POST', `/v1/holds/${id}/dispositions`, { decision: 'rework', note: 'x' });
    expect(unsigned.body).toMatchObject({ status: 422, errors: [{ pointer: '/signature' }] });
    const { body: hold } = await quinn.call('GET', `/v1/holds/${id}`);
    expect(hold).toMatchObject({ dispositions: [], entries: [] });
  });

  it('releases once, and loses no decision and no comment, however many come at once', async () => {
    const { id } = await ruleHold();
    const acts = await Promise.all([
      ...[quinn, rita, ada].map((who) => dispose(who, id)),
      ...Array.from({ length: 20 }, (_, n) =>
        otto.call('POST', `/v1/holds/${id}/comments`, { text: `no ${String(n)}` }),
      ),
    ]);
    expect(acts.map(({ status }) => status)).toEqual(acts.map(() => 201));
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    expect(body['dispositions']).toHaveLength(3);
    expect(new Set((body['comments'] as { text: string }[]).map(({ text }) => text)).size).toBe(20);
    expect(body['entries']).toHaveLength(3);
    const last = (body['dispositions'] as { signature: { by: string } }[]).at(-1)?.signature.by;
    const others = [quinn, rita, ada].filter(({ name }) => name !== last);
    const releases = await Promise.all(others.map((who) => release(who, id)));
    expect(releases.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  it('refuses what was decided on an older sight of the hold, where it is asked to', async () => {
    const { id, version } = await ruleHold();
    await otto.call('POST', `/v1/holds/${id}/comments`, { text: 'Look at the pads first.' });
    const headers = { authorization: `Bearer ${ADMIN_KEY}`, 'content-type': 'application/json' };
    const assign = (match: string): Promise<Response> =>
      fetch(`${api.url}/v1/holds/${id}/assignment`, {
        method: 'PUT',
        headers: { ...headers, 'if-match': match },
        body: JSON.stringify({ assignee: 'quinn', dueAt: null }),
      });
    const stale = await assign(`"${version}"`);
    expect([stale.status, await stale.json()]).toEqual([412, problem('hold-changed', 412)]);
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    expect(body['assignee']).toBeNull();
    expect((await assign(`"${String(body['version'])}"`)).status).toBe(200);
    expect((await assign('*')).status).toBe(200);
  });

  it('keeps comments and assignments on the hold and out of every ledger', async () => {
    const serial = await newUnit();
    const raised = await quinn.call('POST', '/v1/holds', { assembly: 'BRD-1', serial, note: 'Smells burnt.' });
    const id = String(raised.body['id']);
    await otto.call('POST', `/v1/holds/${id}/comments`, { text: 'a word between us' });
    await quinn.call('PUT', `/v1/holds/${id}/assignment`, { assignee: 'otto', dueAt: '2020-01-01T00:00:00+01:00' });
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    expect(body).toMatchObject({
      stage: 'assigned',
      assignee: 'otto',
      dueAt: '2019-12-31T23:00:00.000Z',
      overdue: true,
      comments: [{ by: 'otto', text: 'a word between us' }],
    });
    const { text } = await api.ask('GET', `/v1/units/BRD-1/${serial}/ledger`);
    expect(text).toContain('Smells burnt.');
    expect(text).not.toContain('a word between us');
    expect(text).not.toContain('otto');
    const audit = await api.ask('GET', `/v1/units/BRD-1/${serial}/audit`);
    expect(audit.text).not.toContain('a word between us');
    const found = await quinn.call('GET', `/v1/holds?overdue=true&assignee=otto&stage=assigned&subjectKind=unit`);
    expect((found.body['items'] as DeskHold[]).map((hold) => hold.id)).toEqual([id]);
    expect((await quinn.call('GET', '/v1/holds/summary?assignee=otto')).body).toMatchObject({
      open: 1,
      overdue: 1,
      byAssignee: { otto: 1 },
      byStage: { new: 0, assigned: 1, decided: 0 },
    });
  });

  it('shows customers what is decided about their boards, and nothing of how the house works on it', async () => {
    const customer = 'Nordlicht Instruments';
    const cara = await signInPerson(api.url, ADMIN_KEY, { name: 'cara', roles: ['customer'], customer });
    const { id } = await ruleHold();
    await quinn.call('PUT', `/v1/holds/${id}/assignment`, { assignee: 'otto', dueAt: '2020-01-01T00:00:00Z' });
    await otto.call('POST', `/v1/holds/${id}/comments`, { text: 'a word between us' });
    await dispose(quinn, id);
    const { status, body } = await cara.call('GET', `/v1/holds/${id}`);
    expect([status, body['decision']]).toEqual([200, 'rework']);
    for (const member of ['assignee', 'dueAt', 'overdue', 'comments', 'actions', 'version']) {
      expect(body).not.toHaveProperty(member);
    }
    expect(JSON.stringify(body)).not.toMatch(/otto|a word between us/);
    const listed = await cara.call('GET', `/v1/holds?assignee=otto&overdue=true`);
    expect(JSON.stringify(listed.body)).not.toContain('otto');
    const { body: summary } = await cara.call('GET', '/v1/holds/summary');
    expect(summary).toMatchObject({ byAssignee: {}, overdue: 0 });
    expect((await cara.call('POST', `/v1/holds/${id}/comments`, { text: 'x' })).status).toBe(403);
    expect((await cara.call('GET', '/v1/concessions')).status).toBe(403);
  });

  it('gives holds to people who can work on them, many at once or none', async () => {
    const [first, second] = [await ruleHold(), await ruleHold()];
    const many = (assignee: string | null, ...holds: string[]) =>
      quinn.call('POST', '/v1/hold-assignments', { holds, assignee, dueAt: null });
    expect((await many('nobody', first.id)).body).toEqual(problem('assignee-unfit', 422));
    await api.ask('POST', '/v1/people', {
      body: { name: 'aud', printedName: 'Aud', roles: ['auditor'], password: 'the password of aud' },
    });
    expect((await many('aud', first.id)).body).toEqual(problem('assignee-unfit', 422));
    const gone = '00000000-0000-4000-8000-000000000000';
    expect((await many('rita', first.id, gone)).body).toEqual(problem('not-found', 404));
    expect((await quinn.call('GET', `/v1/holds/${first.id}`)).body).toMatchObject({ assignee: null });
    expect((await many('rita')).status).toBe(422);
    expect((await many('rita', first.id, first.id)).status).toBe(422);
    const done = await many('rita', first.id, second.id);
    expect((done.body['items'] as { assignee: string }[]).map(({ assignee }) => assignee)).toEqual(['rita', 'rita']);
    expect((await otto.call('PUT', `/v1/holds/${first.id}/assignment`, { assignee: 'otto', dueAt: null })).status).toBe(
      403,
    );
  });

  it.each([
    ['station', { station: 'HG-1' }, { kind: 'station', station: 'HG-1' }],
    ['operator', { operator: 'OP-1' }, { kind: 'operator', operator: 'OP-1' }],
    ['profile', { profile: { name: 'P', revision: 'A' } }, { kind: 'profile', name: 'P', revision: 'A' }],
  ])('holds a %s that the setup has, and releases it as in order again', async (kind, parts, subject) => {
    const raised = await quinn.call('POST', '/v1/holds', { ...parts, note: 'Reads too low.', assignee: 'rita' });
    expect(raised).toMatchObject({ status: 201, body: { subject, assignee: 'rita', decisions: ['use-as-is'] } });
    const id = String(raised.body['id']);
    const same = await quinn.call('POST', '/v1/holds', { subject, note: 'Once more, as a subject.' });
    expect(same).toMatchObject({ status: 201, body: { subject } });
    expect((await quinn.call('GET', `/v1/holds?subjectKind=${kind}`)).body['items']).toHaveLength(2);
    expect((await dispose(rita, id, 'repair')).body).toEqual(problem('decision-unfit', 422));
    await dispose(rita, id, 'use-as-is');
    expect((await release(quinn, id)).body).toEqual(problem('two-people-needed', 409));
    expect((await release(ada, id)).status).toBe(200);
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    expect((body['entries'] as Entry[]).map(({ type }) => type)).toEqual([
      'heatbook.hold.raised.v1',
      'heatbook.hold.disposed.v1',
      'heatbook.hold.released.v1',
    ]);
    expect(body['otherHolds']).toMatchObject([{ id: same.body['id'] }]);
  });

  it.each([
    [{ station: 'NONE' }, 404],
    [{ profile: { name: 'P', revision: 'B' } }, 404],
    [{ operator: 'OP-1', station: 'HG-1' }, 422],
    [{ subject: { kind: 'station', operator: 'OP-1' } }, 422],
    [{ subject: { kind: 'profile', name: 'P' } }, 422],
    [{ subject: { kind: 'station', station: 'HG-1' }, operator: 'OP-1' }, 422],
    [{ station: 'HG-1', assignee: 'nobody' }, 422],
    [{}, 422],
  ])('raises nothing on %j', async (parts, status) => {
    const { body } = await quinn.call('POST', '/v1/holds', { ...parts, note: 'x' });
    expect(body).toMatchObject({ status });
  });

  it('tells whoever looks what they may do, and why not', async () => {
    const { id } = await ruleHold();
    await dispose(quinn, id, 'use-as-is');
    const actions = async (who: SignedInPerson) => {
      const { body } = await who.call('GET', `/v1/holds/${id}`);
      return Object.fromEntries(
        (body['actions'] as DeskHold['actions']).map(({ action, allowed, why }) => [action, allowed ? true : why]),
      );
    };
    expect(await actions(quinn)).toEqual({
      dispose: true,
      release: textLike(/quinn signed the disposition/),
      comment: true,
      assign: true,
    });
    expect(await actions(rita)).toMatchObject({ release: textLike(/approver/) });
    expect(await actions(ada)).toEqual({ dispose: true, release: true, comment: true, assign: true });
    expect(await actions(otto)).toMatchObject({ dispose: textLike(/quality or approver/), comment: true });
    const { body } = await api.ask('GET', `/v1/holds/${id}`);
    expect(body).toMatchObject({
      actions: [{ allowed: false }, { allowed: false }, { allowed: true }, { allowed: true }],
    });
  });

  it('explains a hold by rule, budgets, other holds and causes', async () => {
    const { id } = await ruleHold();
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    const subject = body['subject'] as { serial: string };
    expect(body).toMatchObject({ rule: null, concessions: [], graveness: 2, causes: [{ entries: [{ seq: 3 }] }] });
    expect(body['budgets']).toEqual(
      expect.arrayContaining([expect.objectContaining({ limit: 'site-reworks', used: 2 })]),
    );
    const raised = await quinn.call('POST', '/v1/holds', { assembly: 'BRD-1', serial: subject.serial, note: 'More.' });
    const again = await quinn.call('GET', `/v1/holds/${id}`);
    expect(again.body['otherHolds']).toMatchObject([{ id: raised.body['id'], reason: 'by-hand' }]);
  });

  it('lists the gravest first where asked to, and takes no cursor of the other order', async () => {
    const { body } = await quinn.call('GET', '/v1/holds?order=graveness&limit=500');
    const grave = (body['items'] as { graveness: number }[]).map(({ graveness }) => graveness);
    expect(grave).toEqual([...grave].sort((a, b) => a - b));
    expect(new Set(grave).size).toBeGreaterThan(1);
    const first = await quinn.call('GET', '/v1/holds?order=graveness&limit=1');
    const cursor = String(first.body['nextCursor']);
    expect((await quinn.call('GET', `/v1/holds?order=graveness&limit=1&cursor=${cursor}`)).status).toBe(200);
    const other = await quinn.call('GET', `/v1/holds?limit=1&cursor=${cursor}`);
    expect(other.body).toMatchObject({ status: 422, errors: [{ pointer: '/cursor' }] });
  });

  it('takes 50 decisions on one hold and no more', async () => {
    const { id } = await ruleHold();
    for (let n = 0; n < 50; n += 1) expect((await dispose(quinn, id)).status).toBe(201);
    expect((await dispose(quinn, id)).body).toEqual(problem('hold-full', 409));
    expect((await release(rita, id)).status).toBe(200);
  });

  it('knows no hold of another name', async () => {
    for (const id of ['none', '00000000-0000-4000-8000-000000000000']) {
      expect((await dispose(quinn, id)).body).toEqual(problem('not-found', 404));
      expect((await otto.call('POST', `/v1/holds/${id}/comments`, { text: 'x' })).body).toEqual(
        problem('not-found', 404),
      );
    }
  });
});
