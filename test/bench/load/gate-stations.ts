import { Client } from 'undici';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { WaitingBoard, wishFor } from './waiting-boards.js';

interface GateStation {
  readonly client: Client;
  readonly key: string;
}

/** Stations that ask for clearance, each with a key and a connection of its own. */
export class GateStations {
  private constructor(private readonly stations: readonly GateStation[]) {}

  get count(): number {
    return this.stations.length;
  }

  static async open(heatbook: HeatbookProcesses, count: number): Promise<GateStations> {
    const stations: GateStation[] = [];
    for (let n = 0; n < count; n += 1) {
      const path = `/v1/stations/GATE-${String(n)}`;
      await made(heatbook, 'PUT', path, {
        kind: 'hot-gas rework',
        calibrationDueAt: '2099-01-01T00:00:00Z',
        thermocouple: { type: 'K', class: 1 },
      });
      const { key } = (await made(heatbook, 'POST', `${path}/keys`)) as { key: string };
      stations.push({ key, client: new Client(heatbook.urls[n % heatbook.urls.length] ?? '') });
    }
    return new GateStations(stations);
  }

  /**
   * @param station from 0
   * @returns from the request to its whole answer, ms
   * @throws Error where it is not granted, with the answer
   */
  async ask(station: number, board: WaitingBoard): Promise<number> {
    const asking = this.stations[station];
    if (asking === undefined) throw new Error(`there is no station ${String(station)}`);
    const headers = { 'content-type': 'application/json', authorization: `Bearer ${asking.key}` };
    const body = wishFor(board);
    const began = performance.now();
    const answer = await asking.client.request({ method: 'POST', path: '/v1/clearances', headers, body });
    const text = await answer.body.text();
    const tookMs = performance.now() - began;
    if (answer.statusCode !== 201) throw new Error(`not granted: ${String(answer.statusCode)} ${text.slice(0, 500)}`);
    return tookMs;
  }

  async close(): Promise<void> {
    await Promise.all(this.stations.map(({ client }) => client.close()));
  }
}

async function made(heatbook: HeatbookProcesses, method: string, path: string, body?: object): Promise<unknown> {
  const answer = await heatbook.call(method, path, body ?? {});
  if (answer.status !== 201) {
    throw new Error(`${method} ${path} answered ${String(answer.status)}: ${JSON.stringify(answer.body)}`);
  }
  return answer.body;
}
