import { atPace } from './at-pace.js';
import { Lane } from './rework-line.js';
import { clientsFor, sendOne, Target } from './send-lanes.js';

/**
 * Sends lanes at an even pace, their requests in turns, each lane over a connection of its own.
 * @param perSecond requests of all lanes together
 * @returns how long it took until the last was answered, ms
 * @throws Error where something was not accepted
 */
export async function sendPaced(target: Target, lanes: readonly Lane[], perSecond: number): Promise<number> {
  const clients = clientsFor(target, lanes.length);
  const count = Math.max(0, ...lanes.map((lane) => lane.length)) * lanes.length;
  try {
    return await atPace({ perSecond, count, lanes: lanes.length }, async (n, lane) => {
      const body = lanes[lane]?.[Math.floor(n / lanes.length)];
      // Some lanes may be shorter than others.
      if (body !== undefined) await sendOne(target, clients[lane], body);
    });
  } finally {
    await Promise.all(clients.map((client) => client.close()));
  }
}
