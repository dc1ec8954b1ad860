import { setTimeout as delay } from 'node:timers/promises';
import { Subject, subjectKey } from '../../../libs/domain/subject/subject.js';
import { Finding } from '../../../libs/simulator/mistake.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';
import { PatientClient } from './patient-client.js';

const PATIENCE_MS = 120_000;
const LOOK_MS = 100;

/** Waits until all that was posted is in the book. @throws ServiceRefused where it still waits after two minutes */
export async function untilFolded(client: PatientClient): Promise<void> {
  const isFolded = await eventually(async () => (await client.send('GET', '/v1/queue', {})).body['pending'] === 0);
  if (!isFolded) throw new ServiceRefused('Events still wait to be judged after two minutes: does a worker run?');
}

/** Waits until an event is in the book, or for two minutes. */
export async function untilJudged(client: PatientClient, { source, id }: StationCloudEvent): Promise<void> {
  const path = `/v1/events?${new URLSearchParams({ source, id }).toString()}`;
  await eventually(async () => (await client.send('GET', path, {})).body['state'] !== 'pending');
}

async function eventually(isSo: () => Promise<boolean>): Promise<boolean> {
  const deadline = performance.now() + PATIENCE_MS;
  for (;;) {
    if (await isSo()) return true;
    if (performance.now() > deadline) return false;
    await delay(LOOK_MS);
  }
}

interface HoldRow {
  readonly reason: string;
  readonly subject: Subject;
}

interface WarningRow {
  readonly code: string;
  readonly subject: Subject;
}

/** The open holds and the warnings of a board (`{assembly}/{serial}`), each once. */
export async function bookFindings(client: ServiceClient, board: string): Promise<readonly Finding[]> {
  const [assembly = '', serial = ''] = board.split('/');
  const query = new URLSearchParams({ assembly, serial, state: 'open', limit: '100' });
  const { items } = await client.ask('GET', `/v1/holds?${query.toString()}`);
  const { warnings } = await client.ask('GET', `/v1/units/${board}`);
  const found: Finding[] = [
    ...(items as readonly HoldRow[]).map(({ reason, subject }) => finding('hold', reason, subject)),
    ...(warnings as readonly WarningRow[]).map(({ code, subject }) => finding('warning', code, subject)),
  ];
  return [...new Map(found.map((one) => [JSON.stringify(one), one])).values()];
}

function finding(kind: 'hold' | 'warning', code: string, subject: Subject): Finding {
  return { kind, code, subject: subjectKey(subject) };
}
