import { createHash } from 'node:crypto';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { openDatabase } from '../../../libs/postgres/open-database.js';
import { PgBookStore } from '../../../libs/postgres/pg-book-store.js';
import { BookClient } from '../../support/process-client.js';
import { events, received } from '../../support/small-shop.js';
import { silentLog } from '../../support/silent-log.js';
import type { FaultWorld } from './fault-world.js';

/** What a station says of an event, as far as it is asked for again. */
interface Posted {
  readonly source: string;
  readonly id: string;
  readonly subject: string;
}

const APPLIED_WITHIN_MS = 60_000;
/** Five attempts, with 15 s of pauses between them. */
const PARKED_WITHIN_MS = 90_000;
let poisoned = 0;

/** A board of its own comes in; what befalls it must not show on any other. */
function board(): Posted[] {
  poisoned += 1;
  return events(`POISON-${String(poisoned)}`, [received()]) as Posted[];
}

/**
 * Posts events that name an assembly and a site which the setup does not have, in one batch with a good one.
 * @throws Error where they are not parked, or the good one is not applied
 */
export async function postUnplaceable(world: FaultWorld): Promise<void> {
  const [good] = board();
  if (good === undefined) throw new Error('a board comes in');
  const nowhere = { ...good, id: `${good.id}-nowhere`, subject: 'NO-SUCH-ASSEMBLY/1' };
  const cleaned = { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U99', agent: 'isopropanol' } };
  const [unsited] = events(good.id, [{ ...cleaned, subject: good.subject }]) as Posted[];
  if (unsited === undefined) throw new Error('a site is cleaned');
  await posted(world.clients, [nowhere, unsited, good]);
  await comesTo(world.reader, good, 'applied', APPLIED_WITHIN_MS);
  for (const one of [nowhere, unsited]) await comesTo(world.reader, one, 'parked', APPLIED_WITHIN_MS);
}

/**
 * Takes an event in as a newer version would whose type this one does not know, on a board that is being worked on.
 * @throws Error where the board's other events wait for it, or it is not parked in the end
 */
export async function acceptUnknownType(world: FaultWorld): Promise<void> {
  const [good] = board();
  if (good === undefined) throw new Error('a board comes in');
  const { source, subject } = good;
  const newer = { source, id: `${good.id}-newer`, type: 'heatbook.site.polished.v7', subject };
  const payload = JSON.stringify({
    ...newer,
    specversion: '1.0',
    time: '2026-04-01T06:00:00Z',
    data: { refdes: 'U7' },
  });
  const database = await openDatabase({ url: world.servers.postgresUrl.href, log: silentLog });
  try {
    const contentHash = createHash('sha256').update(payload).digest('hex');
    await new PgBookStore(database.pool).accept([{ ...newer, contentHash, payload }]);
  } finally {
    await database.close();
  }
  await posted(world.clients, [good]);
  await comesTo(world.reader, good, 'applied', APPLIED_WITHIN_MS);
  await comesTo(world.reader, newer, 'parked', PARKED_WITHIN_MS);
}

async function posted([client]: readonly BookClient[], batch: readonly object[]): Promise<void> {
  const answer = await client?.post(batch);
  if (answer?.status !== 202 || answer.body.accepted !== batch.length) throw new Error('the poison is not taken in');
}

async function comesTo(
  client: BookClient,
  { source, id }: Pick<Posted, 'source' | 'id'>,
  wanted: string,
  timeoutMs: number,
): Promise<void> {
  const path = `/v1/events?${new URLSearchParams({ source, id }).toString()}`;
  const stateNow = async (): Promise<string> => ((await client.get(path)) as { state: string }).state;
  if (await until(async () => (await stateNow()) === wanted, timeoutMs)) return;
  throw new Error(`${id} is ${await stateNow()} and not ${wanted}`);
}
