import { once } from 'node:events';
import { createServer, Server } from 'node:http';
import { AddressInfo } from 'node:net';
import { ServiceClient } from '../service/service-client.js';
import { PatientClient } from './patient-client.js';

/** What the service answers, one after the other; the last one for good. A word cuts the connection. */
type Script = readonly (number | 'cut')[];

describe('a patient client', () => {
  let server: Server;
  let script: Script;
  let bodies: string[];

  beforeEach(async () => {
    bodies = [];
    server = createServer((request, response) => {
      let body = '';
      request.on('data', (part: Buffer) => (body += part.toString()));
      request.on('end', () => {
        const next = script[Math.min(bodies.length, script.length - 1)];
        bodies.push(body);
        if (next === 'cut' || next === undefined) request.socket.destroy();
        else response.writeHead(next, { 'content-type': 'application/json' }).end('{"detail": "said so"}');
      });
    });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
  });

  afterEach(() => {
    server.closeAllConnections();
    server.close();
  });

  function send(...answers: Script): Promise<{ status: number }> {
    script = answers;
    const { port } = server.address() as AddressInfo;
    const client = new PatientClient(new ServiceClient(`http://127.0.0.1:${String(port)}`, 'hbk_x'));
    return client.send('POST', '/v1/events', { body: 'the same' });
  }

  it('sends again, unchanged, where the service is away, overrun or at fault', async () => {
    expect(await send(503, 'cut', 429, 202)).toMatchObject({ status: 202 });
    expect(bodies).toEqual(['the same', 'the same', 'the same', 'the same']);
  });

  it.each([409, 422, 413])('takes %i as the answer that it is', async (status) => {
    expect(await send(status)).toMatchObject({ status, body: { detail: 'said so' } });
    expect(bodies).toHaveLength(1);
  });

  it.each([401, 403])('gives up at once at %i, with what the service says', async (status) => {
    await expect(send(status)).rejects.toThrow('said so');
    expect(bodies).toHaveLength(1);
  });
});
