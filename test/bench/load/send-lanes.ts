import { Client } from 'undici';
import { Lane } from './rework-line.js';

export interface Target {
  /** Where lanes are sent, in turns: the addresses of one or several apis. */
  readonly urls: readonly string[];
  readonly path: string;
  readonly key: string;
  readonly mediaType: string;
}

/**
 * Sends lanes side by side, each over a connection of its own and each request once the one before is answered.
 * @returns how long it took, ms
 * @throws Error where a request is not answered 202, or something in it was not accepted
 */
export async function sendLanes(target: Target, lanes: readonly Lane[]): Promise<number> {
  const clients = clientsFor(target, lanes.length);
  const began = performance.now();
  try {
    await Promise.all(lanes.map((lane, n) => sendLane(target, clients[n], lane)));
    return performance.now() - began;
  } finally {
    await Promise.all(clients.map((client) => client.close()));
  }
}

/** A connection for each lane. */
export function clientsFor({ urls }: Target, lanes: number): Client[] {
  return Array.from({ length: lanes }, (_, n) => new Client(urls[n % urls.length] ?? ''));
}

/** @throws Error where it is not answered 202, or something in it was not accepted */
export async function sendOne(target: Target, client: Client | undefined, body: string): Promise<void> {
  if (client === undefined) throw new Error('each lane has a client');
  const headers = { 'content-type': target.mediaType, authorization: `Bearer ${target.key}` };
  const answer = await client.request({ method: 'POST', path: target.path, headers, body });
  const text = await answer.body.text();
  if (answer.statusCode !== 202 || /"state":"(rejected|duplicate)"/.test(text)) {
    throw new Error(`not acknowledged: ${String(answer.statusCode)} ${text.slice(0, 500)}`);
  }
}

async function sendLane(target: Target, client: Client | undefined, lane: Lane): Promise<void> {
  for (const body of lane) await sendOne(target, client, body);
}
