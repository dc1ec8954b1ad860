import { createHash } from 'node:crypto';
import { LoggedTrace } from '../../../libs/simulator/traces/make-trace.js';
import { makeDemoTraces } from '../../cli/demo/traces/make-demo-traces.js';
import { problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, stationKey } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

const DEMO = makeDemoTraces();

function demo(wanted: (trace: LoggedTrace) => boolean): LoggedTrace {
  const found = DEMO.find(wanted);
  if (found === undefined) throw new Error('the demo has no such trace');
  return found;
}

function sha256(content: string | Buffer): string {
  return createHash('sha256').update(content).digest('hex');
}

function pointersIn(body: unknown): string[] {
  return (body as { errors: { pointer: string }[] }).errors.map(({ pointer }) => pointer);
}

/** 25 C, up to 245 C within 100 s, down again within 50 s. */
const CELSIUS = 'time (s),Joint (°C),Die (°C)\n0,25,25\n100,245,235\n150,25,25\n';

describe('trace routes', () => {
  let api: SpecApi;
  let number = 0;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  const put = (path: string, raw: string | Buffer, type = 'text/csv') =>
    api.ask('PUT', `/v1/traces/${path}`, { raw, type });
  const freshName = (): string => `spec-${(number += 1)}`;

  it('keeps a trace once: the same bytes again do no harm, others are refused', async () => {
    const name = freshName();
    const first = await put(name, CELSIUS);
    const answer = { name, contentHash: sha256(CELSIUS), rows: 3, channels: ['Joint', 'Die'], unit: 'C', notes: [] };
    expect(first).toMatchObject({ status: 201, body: answer });
    expect(await put(name, CELSIUS)).toMatchObject({ status: 200, body: answer });
    expect((await put(name, `${CELSIUS}160,24,24\n`)).body).toEqual(problem('trace-conflict', 409));
    expect((await put(`${name}?unit=mV&type=K&coldJunctionC=25`, CELSIUS)).body).toEqual(
      problem('trace-conflict', 409),
    );
    expect((await api.ask('GET', `/v1/traces/${name}`)).text).toBe(CELSIUS);
  });

  it('tells of a trace when it comes, and when it comes again, but of none that was refused', async () => {
    const name = freshName();
    const told = () => api.arrived.filter((one) => one === name).length;
    await put(name, 'no log');
    expect(told()).toBe(0);
    await put(name, CELSIUS);
    expect(told()).toBe(1);
    await put(name, CELSIUS);
    expect(told()).toBe(2);
    await put(name, `${CELSIUS}160,24,24\n`);
    expect(told()).toBe(2);
  });

  it('lets a station upload and read, and nobody without a key', async () => {
    const key = await stationKey(api, 'HG-1');
    const name = freshName();
    expect(await api.ask('PUT', `/v1/traces/${name}`, { key, raw: CELSIUS, type: 'text/csv' })).toMatchObject({
      status: 201,
    });
    expect(await api.ask('GET', `/v1/traces/${name}`, { key })).toMatchObject({ status: 200 });
    expect(await api.ask('GET', `/v1/traces/${name}/analysis?liquidusC=217`, { key })).toMatchObject({ status: 200 });
    expect((await api.ask('GET', `/v1/traces/${name}`, { key: null })).body).toEqual(problem('key-required', 401));
  });

  it.each([
    ['UTF-8 with a byte order mark', Buffer.from(`\uFEFF${CELSIUS}`, 'utf8')],
    ['one byte a character', Buffer.from(CELSIUS, 'latin1')],
    ['UTF-16', Buffer.from(`\uFEFF${CELSIUS}`, 'utf16le')],
  ])('gives back the very bytes of a file in %s, and reads it', async (_what, bytes) => {
    const name = freshName();
    expect(await put(name, bytes)).toMatchObject({
      status: 201,
      body: { contentHash: sha256(bytes), channels: ['Joint', 'Die'] },
    });
    const { headers } = await api.ask('GET', `/v1/traces/${name}`);
    expect(headers.get('content-type')).toBe('text/csv');
    expect(headers.get('etag')).toBe(`"${sha256(bytes)}"`);
    expect(headers.get('content-length')).toBe(String(bytes.length));
    expect((await api.bytes(`/v1/traces/${name}`)).equals(bytes)).toBe(true);
  });

  it('reads decimal commas between semicolons', async () => {
    const trace = demo(({ csv }) => csv.includes(';'));
    const name = freshName();
    expect(trace.csv).toMatch(/;\d+,\d/);
    expect(await put(name, trace.csv)).toMatchObject({
      status: 201,
      body: { unit: 'C', channels: trace.channels.map((channel) => channel.name) },
    });
    await expectTruth(name, trace);
  });

  it('reads mV of type K with the cold junction it was told', async () => {
    const trace = demo(({ voltage }) => voltage !== undefined);
    const name = freshName();
    expect((await put(name, trace.csv)).body).toEqual(problem('unreadable-trace', 422));
    const { type, coldJunctionC } = trace.voltage ?? { type: 'none', coldJunctionC: 0 };
    const kept = await put(`${name}?unit=mV&type=${type}&coldJunctionC=${coldJunctionC}`, trace.csv);
    expect(kept).toMatchObject({ status: 201, body: { unit: 'mV', notes: [textLike(/type K/), textLike(/ITS-90/)] } });
    await expectTruth(name, trace);
  });

  it('finds in the removal of the demo what it was made from', async () => {
    const trace = demo(({ name }) => name === 'removal-sac305');
    const name = freshName();
    await put(name, trace.csv);
    await expectTruth(name, trace);
  });

  async function expectTruth(name: string, trace: LoggedTrace): Promise<void> {
    const { status, body } = await api.ask('GET', `/v1/traces/${name}/analysis?liquidusC=${trace.liquidusC}`);
    expect(status).toBe(200);
    const { channels } = body as { channels: Record<string, number | string>[] };
    expect(channels.map((channel) => channel['name'])).toEqual(trace.channels.map((channel) => channel.name));
    trace.channels.forEach((truth, index) => {
      const found = channels[index] ?? {};
      expect(found['state']).toBe(truth.connected ? 'ok' : 'open');
      if (!truth.connected) return;
      // Noise lifts the highest of many readings by a few tenths.
      expect(Math.abs(Number(found['peakC']) - truth.peakC)).toBeLessThan(0.9);
      expect(Math.abs(Number(found['secondsAboveLiquidus']) - truth.secondsAboveLiquidus)).toBeLessThan(1.5);
      expect(Number(found['maxRiseCPerS'])).toBeGreaterThan(0);
      expect(Number(found['maxFallCPerS'])).toBeGreaterThan(0);
    });
  }

  it('analyses by the line, band, window and channels that are asked for, and says so', async () => {
    const name = freshName();
    const rows = Array.from({ length: 101 }, (_, s) => `${s},${25 + 2 * s},${25 + s},${25 + 1.5 * s}`);
    await put(name, ['s,Joint,Die,Board', ...rows].join('\n'));
    const ask = (query: string) => api.ask('GET', `/v1/traces/${name}/analysis?${query}`);
    const { body } = await ask('liquidusC=205&soakFromC=125&soakToC=175&rampWindowS=20&spreadOver=Joint,%20Board');
    expect(body).toMatchObject({
      trace: name,
      rules: { liquidusC: 205, soakFromC: 125, soakToC: 175, rampWindowS: 20 },
      spreadC: 50,
      spread: { hottest: 'Joint', coolest: 'Board', over: ['Joint', 'Board'] },
      channels: [{ state: 'ok', peakC: 225, secondsAboveLiquidus: 10, soakSeconds: 25 }, {}, {}],
    });
    const [joint] = (body as { channels: { maxRiseCPerS: number; maxRise: { samples: number } }[] }).channels;
    expect(joint?.maxRiseCPerS).toBeCloseTo(2, 9);
    expect(joint?.maxRise.samples).toBe(21);
    expect((await ask('liquidusC=205')).body).toMatchObject({ spreadC: 100, rules: { rampWindowS: 5 } });
  });

  it.each([
    ['', '/liquidusC'],
    ['liquidusC=', '/liquidusC'],
    ['liquidusC=hot', '/liquidusC'],
    ['liquidusC=0', '/liquidusC'],
    ['liquidusC=217&soakFromC=150', '/soakToC'],
    ['liquidusC=217&soakToC=150', '/soakFromC'],
    ['liquidusC=217&soakFromC=200&soakToC=150', '/soakToC'],
    ['liquidusC=217&rampWindowS=-1', '/rampWindowS'],
    ['liquidusC=217&spreadOver=Joint,Lid', '/spreadOver'],
    ['liquidusC=217&spreadOver=', '/spreadOver'],
    ['liquidusC=217&window=5', '/window'],
  ])('refuses to analyse for %s', async (query, pointer) => {
    await put('refused', CELSIUS);
    const { body } = await api.ask('GET', `/v1/traces/refused/analysis?${query}`);
    expect(body).toEqual(problem('invalid-query', 422));
    expect([...new Set(pointersIn(body))]).toEqual([pointer]);
  });

  it.each([
    ['unit=mV', '/type'],
    ['unit=mV&type=K', '/coldJunctionC'],
    ['type=K&coldJunctionC=25', '/unit'],
    ['unit=C&coldJunctionC=25', '/unit'],
    ['unit=mV&type=S&coldJunctionC=25', '/type'],
    ['unit=mV&type=K&coldJunctionC=300', '/coldJunctionC'],
    ['unit=F', '/unit'],
  ])('refuses an upload with %s', async (query, pointer) => {
    const { body } = await put(`never?${query}`, CELSIUS);
    expect(body).toEqual(problem('invalid-query', 422));
    expect(pointersIn(body)[0]).toBe(pointer);
  });

  it.each([
    ['a word for a reading', 's,Joint\n0,25\n1,warm\n2,26\nx,27\n', ['/lines/5', '/lines/3']],
    ['no readings', 'a log\n', ['']],
    ['nothing', '', ['']],
    ['decimal commas between commas', 's,Joint\n0,0,25,5\n0,2,25,6\n', ['/lines/2', '/lines/3']],
    ['no text', Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 0, 0]), ['']],
  ])('says of a file with %s where it is broken, and keeps nothing', async (_what, raw, pointers) => {
    const { body } = await put('broken', raw);
    expect(body).toEqual(problem('unreadable-trace', 422));
    expect(pointersIn(body)).toEqual(pointers);
    expect(body).toMatchObject({ detail: textLike(/;/) });
    expect((await api.ask('GET', '/v1/traces/broken')).body).toEqual(problem('not-found', 404));
  });

  it('gives curves for drawing, with a line or without', async () => {
    const name = freshName();
    await put(name, CELSIUS);
    const ask = async (query: string): Promise<unknown> =>
      (await api.ask('GET', `/v1/traces/${name}/curve${query}`)).body;
    expect(await ask('?liquidusC=217&points=50')).toEqual({
      ...{ trace: name, liquidusC: 217, seconds: [0, 100, 150], samples: 3, kept: 3 },
      channels: [
        { name: 'Joint', state: 'ok', peakC: 245, atC: [25, 245, 25] },
        { name: 'Die', state: 'ok', peakC: 235, atC: [25, 235, 25] },
      ],
      above: [
        { channel: 'Joint', fromS: expect.closeTo(87.27, 1) as unknown, toS: expect.closeTo(106.36, 1) as unknown },
        { channel: 'Die', fromS: expect.closeTo(91.43, 1) as unknown, toS: expect.closeTo(104.29, 1) as unknown },
      ],
    });
    expect(await ask('')).toMatchObject({ liquidusC: null, above: [], kept: 3 });
    for (const query of ['?points=49', '?points=2001', '?liquidusC=0']) {
      expect([query, await ask(query)]).toEqual([query, problem('invalid-query', 422)]);
    }
    expect((await api.ask('GET', '/v1/traces/none/curve')).body).toEqual(problem('not-found', 404));
  });

  it('takes large files as text/csv and nothing else', async () => {
    const rows = Array.from({ length: 120_000 }, (_, s) => `${s},25.0,26.0`).join('\n');
    expect(rows.length).toBeGreaterThan(1024 * 1024);
    expect(await put(freshName(), `s,Joint,Die\n${rows}`, 'text/csv; charset=utf-8; header=present')).toMatchObject({
      status: 201,
      body: { rows: 120_000 },
    });
    expect((await put('huge', Buffer.alloc(16 * 1024 * 1024 + 1, '1'))).body).toEqual(problem('too-large', 413));
    for (const type of ['application/json', 'application/x-ndjson', 'text/plain']) {
      expect((await put('typed', '{}', type)).body).toEqual(problem('unknown-media-type', 415));
    }
    const elsewhere = await api.ask('POST', '/v1/holds', { raw: CELSIUS, type: 'text/csv' });
    expect(elsewhere.body).toEqual(problem('unknown-media-type', 415));
  });

  it('knows no trace that was not uploaded, and no name that cannot be', async () => {
    expect((await api.ask('GET', '/v1/traces/none')).body).toEqual(problem('not-found', 404));
    expect((await api.ask('GET', '/v1/traces/none/analysis?liquidusC=217')).body).toEqual(problem('not-found', 404));
    expect((await put('a%20b', CELSIUS)).body).toEqual(problem('invalid-name', 422));
  });
});
