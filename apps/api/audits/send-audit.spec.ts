import { once } from 'node:events';
import { get, IncomingMessage } from 'node:http';
import { setImmediate } from 'node:timers/promises';
import { fastify, FastifyInstance } from 'fastify';
import { sampleLedger, sampleSource, stationEntry } from '../../../libs/evidence/spec-support/sample-source.js';
import { silentLog } from '../../../test/support/silent-log.js';
import { sendAudit } from './send-audit.js';

/** More than a connection holds back between a writer and a reader who does not read. */
const MANY_CHUNKS = 2_000;
const CHUNK = Buffer.alloc(64 * 1024, 'x');

describe('sendAudit', () => {
  let server: FastifyInstance;
  let url: string;
  let write: () => AsyncGenerator<Uint8Array>;
  const logged: string[] = [];

  const log = { ...silentLog, error: (message: string) => void logged.push(message) };
  const source = sampleSource(sampleLedger('DEMO-100/SN-1', [stationEntry(1)]).ledger);

  beforeAll(async () => {
    server = fastify();
    server.get('/', async (_request, reply) => {
      await sendAudit(reply, { mediaType: 'text/plain', extension: '.txt', write: () => write() }, source, log);
      return reply;
    });
    url = await server.listen({ host: '127.0.0.1', port: 0 });
  });

  afterAll(() => server.close());

  beforeEach(() => {
    logged.length = 0;
  });

  async function answer(): Promise<IncomingMessage> {
    const [response] = (await once(get(url), 'response')) as [IncomingMessage];
    return response;
  }

  it('answers a failure before the first byte as a failure', async () => {
    write = async function* () {
      await setImmediate();
      yield* [];
      throw new Error('nothing to give');
    };
    expect((await fetch(url)).status).toBe(500);
    expect(logged).toEqual([]);
  });

  it('breaks the connection at a later one, so that the file is seen to be cut', async () => {
    write = async function* () {
      yield CHUNK;
      await setImmediate();
      throw new Error('it ends here');
    };
    const response = await fetch(url);
    expect(response.status).toBe(200);
    await expect(response.text()).rejects.toThrow('terminated');
    expect(logged).toEqual(['An export broke off.']);
  });

  it('writes no faster than it is read, and stops once nobody reads any more', async () => {
    let written = 0;
    let ended: () => void = () => undefined;
    const end = new Promise<void>((resolve) => (ended = resolve));
    write = async function* () {
      try {
        for (; written < MANY_CHUNKS; written += 1) {
          await setImmediate();
          yield CHUNK;
        }
      } finally {
        ended();
      }
    };
    const response = await answer();
    await once(response, 'readable');
    response.destroy();
    await end;
    expect(written).toBeLessThan(MANY_CHUNKS);
    expect(logged).toEqual([]);
  });
});
