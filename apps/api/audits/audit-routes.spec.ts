import { parse } from 'csv-parse/sync';
import { SignedInPerson, signInPerson } from '../../../test/support/signed-in-person.js';
import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

const AUDIT = '/v1/units/BRD-1/S1/audit';

interface Audit {
  readonly entries: { seq: number; type: string }[];
  readonly headHash: string;
  readonly configuration: { kind: string; name: string }[];
  readonly holds: { state: string; release: { signature: { named: string } } | null }[];
  readonly people: { commitment: string; printedName: string }[];
}

describe('the audit of a unit', () => {
  let api: SpecApi;
  let quinn: SignedInPerson;
  let ada: SignedInPerson;

  const ask = (path = AUDIT, headers: Record<string, string> = {}, method = 'GET'): Promise<Response> => {
    return fetch(`${api.url}${path}`, { method, headers: { authorization: `Bearer ${ADMIN_KEY}`, ...headers } });
  };
  const audit = async (): Promise<Audit> => (await (await ask()).json()) as Audit;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    quinn = await signInPerson(api.url, ADMIN_KEY, { name: 'quinn', roles: ['quality'] });
    ada = await signInPerson(api.url, ADMIN_KEY, { name: 'ada', roles: ['approver'] });
    const limit = { kind: 'site-reworks', allowed: 2, unit: 'reworks', action: 'hold', source: 'Policy' };
    await api.ask('PUT', '/v1/limits/strict', { body: { ...limit, scope: { assembly: 'BRD-1' } } });
    await api.ask('POST', '/v1/events', { body: [sampleEvent('heatbook.unit.received.v1', {}), removalEvent()] });
    await api.fold();
  });

  afterAll(() => api.close());

  it('is the whole history with the setup that it was judged by', async () => {
    const answer = await ask();
    expect(answer.headers.get('content-type')).toBe('application/json; charset=utf-8');
    const body = (await answer.json()) as Audit;
    expect(body).toMatchObject({ format: 'heatbook-audit', version: 2, subject: 'BRD-1/S1', count: 2, log: null });
    expect(body.entries.map(({ seq }) => seq)).toEqual([1, 2]);
    const names = body.configuration.map(({ kind, name }) => `${kind} ${name}`);
    expect(names).toEqual(expect.arrayContaining(['assembly BRD-1', 'part LOGIC-1', 'station HG-1', 'limit strict']));
    expect(answer.headers.get('content-disposition')).toBe(
      `attachment; filename="audit-BRD-1-S1-${body.headHash.slice(0, 12)}.json"`,
    );
  });

  it('has what people decided, and who they are', async () => {
    const subject = { kind: 'site', assembly: 'BRD-1', serial: 'S1', refdes: 'U1' };
    const concession = await ada.call('POST', '/v1/concessions', {
      ...{ subject, limit: 'site-reworks', allowed: 5, customerReference: 'C-7', note: 'agreed' },
      signature: ada.signature(),
    });
    expect(concession.status).toBe(201);
    const raised = await api.ask('POST', '/v1/holds', { body: { assembly: 'BRD-1', serial: 'S1', note: 'Scratch' } });
    const { id } = raised.body as { id: string };
    const note = 'Cosmetic only';
    await quinn.call('POST', `/v1/holds/${id}/dispositions`, {
      decision: 'use-as-is',
      note,
      signature: quinn.signature(),
    });
    expect((await ada.call('POST', `/v1/holds/${id}/release`, { note, signature: ada.signature() })).status).toBe(200);
    const body = await audit();
    expect(body.configuration).toContainEqual(expect.objectContaining({ kind: 'concession' }));
    const [hold] = body.holds;
    expect(hold?.state).toBe('released');
    const printed = new Map(body.people.map(({ commitment, printedName }) => [commitment, printedName]));
    expect([...printed.values()].sort()).toEqual(['ada in print', 'quinn in print']);
    expect(printed.get(hold?.release?.signature.named ?? '')).toBe('ada in print');
  });

  it('comes as a table too', async () => {
    const answer = await ask(`${AUDIT}?format=csv`);
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers.get('content-disposition')).toMatch(/\.csv"$/);
    const rows: Record<string, string>[] = parse(await answer.text(), { columns: true });
    const { entries } = await audit();
    const own = rows.filter(({ subject }) => subject === 'BRD-1/S1');
    expect(rows.slice(own.length)).toMatchObject([{ subject: 'devices/BRD-1:S1:U1', seq: '1', of: '1' }]);
    expect(own.map(({ seq, of, type }) => `${String(seq)}/${String(of)} ${String(type)}`)).toEqual(
      entries.map(({ seq, type }) => `${String(seq)}/${String(entries.length)} ${type}`),
    );
  });

  it.each([
    ['pdf', 'application/pdf', '.pdf', /^%PDF-1/],
    ['epcis', 'application/ld+json', '.epcis.jsonld', /^{"@context":/],
  ])('comes as %s too', async (format, type, extension, beginning) => {
    const answer = await ask(`${AUDIT}?format=${format}`);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, type]);
    expect(answer.headers.get('content-disposition')).toContain(`${extension}"`);
    expect(await answer.text()).toMatch(beginning);
  });

  it('is not sent again to whoever has it, until something is entered', async () => {
    const first = await ask();
    const etag = first.headers.get('etag') ?? '';
    expect(etag).toBe(`W/"${((await first.json()) as Audit).headHash}"`);
    expect(first.headers.get('cache-control')).toBe('private, no-cache');
    expect(first.headers.get('vary')).toContain('Authorization, Cookie');
    for (const tags of [etag, etag.slice(2), `"other", ${etag}`, '*']) {
      const again = await ask(AUDIT, { 'if-none-match': tags });
      expect([again.status, await again.text(), again.headers.get('etag')]).toEqual([304, '', etag]);
    }
    expect((await ask(AUDIT, { 'if-none-match': '"other"' })).status).toBe(200);
    await api.ask('POST', '/v1/events', {
      body: sampleEvent('heatbook.site.cleaned.v1', { refdes: 'U1', agent: 'water' }),
    });
    await api.fold();
    const later = await ask(AUDIT, { 'if-none-match': etag });
    expect(later.status).toBe(200);
    expect(later.headers.get('etag')).not.toBe(etag);
  });

  it('tells its headers without its body', async () => {
    const [head, whole] = [await ask(AUDIT, {}, 'HEAD'), await ask()];
    expect([head.status, await head.text()]).toEqual([200, '']);
    for (const name of ['etag', 'content-type', 'content-disposition', 'cache-control']) {
      expect(head.headers.get(name)).toBe(whole.headers.get(name));
    }
    expect((await ask('/v1/units/BRD-1/NONE/audit', {}, 'HEAD')).status).toBe(404);
  });

  it('says which formats there are, and what since may be', async () => {
    for (const name of ['xml', 'constructor', '__proto__']) {
      const { status, body } = await api.ask('GET', `${AUDIT}?format=${name}`);
      expect([status, body]).toEqual([406, problem('format-unavailable', 406)]);
    }
    const sizes = (count: number): string =>
      Array.from({ length: count }, (_, n) => `since=${String(n + 1)}`).join('&');
    expect((await ask(`${AUDIT}?${sizes(1)}`)).status).toBe(200);
    expect((await ask(`${AUDIT}?${sizes(10)}`)).status).toBe(200);
    for (const query of [sizes(11), 'since=0', 'since=1.5', 'since=x', 'since=', 'since=99999999999999999']) {
      const { body: refused } = await api.ask('GET', `${AUDIT}?${query}`);
      expect([query, refused]).toEqual([query, problem('invalid-query', 422)]);
    }
  });
});
