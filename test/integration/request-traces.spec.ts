import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { enterShop, events, received, SHOP } from '../support/small-shop.js';
import { OtlpReceiver, SentSpan } from '../support/otlp-receiver.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { runnable } from '../support/test-environment.js';

const TRACE = '0af7651916cd43dd8448eb211c80319c';
const CALLER = 'b7ad6b7169203331';
const SOURCE = `/stations/${SHOP.bench}`;

let receiver: OtlpReceiver;
let house: RunningHouse;
const lines: string[] = [];
const write = (message: string): void => void lines.push(message);

beforeAll(async () => {
  receiver = await OtlpReceiver.listen();
  house = await runningHouse(undefined, {
    tracing: { endpoint: receiver.url, ratio: 1 },
    service: 'heatbook-spec',
    log: { info: write, warn: write, error: write },
  });
  await enterShop(house);
});

afterAll(async () => {
  await house.close();
  await receiver.close();
});

/** Posts the receipt of a board as a station that is traced. */
async function post(serial: string, headers: Record<string, string>): Promise<string> {
  const [event] = events(serial, [received()]);
  const response = await fetch(`${house.url}/v1/events`, {
    method: 'POST',
    headers: {
      ...{ authorization: `Bearer ${house.adminKey}`, 'content-type': 'application/cloudevents+json' },
      ...headers,
    },
    body: JSON.stringify(event),
  });
  const { items } = (await response.json()) as { items: { id: string; state: string }[] };
  expect(items).toMatchObject([{ state: 'accepted' }]);
  return items[0]?.id ?? '';
}

function named(name: string, traceId = TRACE) {
  return receiver.find((span) => span.name === name && span.traceId === traceId);
}

async function askedFor(id: string): Promise<unknown> {
  const { body } = await house.call('GET', `/v1/events?source=${SOURCE}&id=${id}`);
  return body['request'];
}

describe('the trace of a request', () => {
  it('goes on from the caller over the queue to the fold, and is kept with what the request brought', async () => {
    const id = await post('T-1', { traceparent: `00-${TRACE}-${CALLER}-01`, 'x-request-id': 'bench-1.42' });
    const server = await named('POST /v1/events');
    expect(server).toMatchObject({ parentSpanId: CALLER, service: 'heatbook-spec' });
    expect(await named('insert events')).toMatchObject({ parentSpanId: server.spanId });
    const wakeUp = await named('wake fold');
    expect(wakeUp).toMatchObject({ parentSpanId: server.spanId });
    const fold = await named('fold');
    // The sweep may have been there first.
    expect([wakeUp.spanId, server.spanId]).toContain(fold.parentSpanId);
    expect(fold.links).toMatchObject([{ traceId: TRACE, spanId: server.spanId }]);
    expect(await askedFor(id)).toEqual({ id: 'bench-1.42', traceparent: `00-${TRACE}-${server.spanId}-01` });
  });

  it('is handed over by the wake-up, where that was first', async () => {
    let isWoken = false;
    for (let n = 1; n < 10 && !isWoken; n += 1) {
      const trace = `${'0'.repeat(30)}a${String(n)}`;
      await post(`W-${String(n)}`, { traceparent: `00-${trace}-${CALLER}-01` });
      const [wakeUp, fold] = [await named('wake fold', trace), await named('fold', trace)];
      isWoken = fold.parentSpanId === wakeUp.spanId;
    }
    expect(isWoken).toBe(true);
  });

  it('is one of many that a fold is linked to', async () => {
    const traces = Array.from({ length: 5 }, (_, n) => `${String(n + 1).repeat(8)}${'0'.repeat(23)}1`);
    await Promise.all(traces.map((trace, n) => post(`T-2${String(n)}`, { traceparent: `00-${trace}-${CALLER}-01` })));
    for (const trace of traces) {
      const server = await named('POST /v1/events', trace);
      const isLinked = ({ name, links }: SentSpan): boolean =>
        name === 'fold' && links.some(({ traceId, spanId }) => traceId === trace && spanId === server.spanId);
      await receiver.find(isLinked);
    }
  });

  it('begins here where the caller has none, and has the grant of a clearance and the checkpoint', async () => {
    const wish = {
      ...{ assembly: SHOP.assembly, serial: 'T-1', operator: 'ann', station: SHOP.bench },
      steps: [{ type: 'heatbook.site.heated.v1', refdes: 'U7', purpose: 'touch-up' }],
    };
    const { status } = await house.call('POST', '/v1/clearances', wish);
    expect([201, 409]).toContain(status);
    const server = await receiver.find(({ name }) => name === 'POST /v1/clearances');
    expect(server.parentSpanId).toBeUndefined();
    expect(await named('grant clearance', server.traceId)).toMatchObject({ parentSpanId: server.spanId });
    const sequence = await receiver.find(({ name }) => name === 'sequence log');
    expect(await named('sign checkpoint', sequence.traceId)).toMatchObject({ parentSpanId: sequence.spanId });
  });

  it('is left out where the caller leaves it out, and still told with the event', async () => {
    const trace = '9'.repeat(32);
    const traceparent = `00-${trace}-${CALLER}-00`;
    const id = await post('T-3', { traceparent, 'x-request-id': 'bench-1.43' });
    await post('T-4', { traceparent: `00-${'8'.repeat(32)}-${CALLER}-01` });
    await named('fold', '8'.repeat(32));
    expect(receiver.spans.filter(({ traceId }) => traceId === trace)).toEqual([]);
    expect(await askedFor(id)).toEqual({ id: 'bench-1.43', traceparent });
  });

  it('is lost where the receiver is away, and nothing else', async () => {
    receiver.answer = 'silent';
    const asked = receiver.something();
    const id = await post('T-5', { traceparent: `00-${'7'.repeat(32)}-${CALLER}-01` });
    await asked;
    await house.post(events('T-6', [received()]));
    expect((await house.call('GET', `/v1/events?source=${SOURCE}&id=${id}`)).body['state']).toBe('applied');
    receiver.answer = 400;
    while (!lines.some((line) => line.startsWith('Traces are not taken'))) await receiver.something();
    receiver.answer = 200;
    await post('T-7', { traceparent: `00-${'6'.repeat(32)}-${CALLER}-01` });
    await named('POST /v1/events', '6'.repeat(32));
    expect(lines.filter((line) => line.startsWith('Traces are')).length).toBeGreaterThan(0);
  });
});

it('loads nothing that makes or sends spans where no traces are asked for', async () => {
  const program = `
    import { createRequire } from 'node:module';
    const { openTracing } = await import(${JSON.stringify(runnable('apps/house/tracing/open-tracing.ts'))});
    await import(${JSON.stringify(runnable('apps/worker/start-worker.ts'))});
    await import(${JSON.stringify(runnable('apps/api/serve-api.ts'))});
    const loaded = () => Object.keys(createRequire(import.meta.url).cache).some((name) => name.includes('@opentelemetry/sdk-trace'));
    await openTracing(undefined, 'spec', console);
    const before = loaded();
    const tracing = await openTracing({ endpoint: 'http://127.0.0.1:9', ratio: 1 }, 'spec', console);
    console.log(JSON.stringify([before, loaded()]));
    await tracing.close();`;
  const { stdout } = await promisify(execFile)(process.execPath, ['--input-type=module', '-e', program]);
  expect(JSON.parse(stdout)).toEqual([false, true]);
});
