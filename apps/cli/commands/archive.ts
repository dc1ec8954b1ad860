import { setTimeout as delay } from 'node:timers/promises';
import { downloadArchive } from '../archive/download-archive.js';
import { ProgressLine } from '../service/progress-line.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { withService } from '../service/with-service.js';

export interface ArchiveOptions {
  readonly format?: readonly string[];
  readonly output?: string;
  /** Of an archive that was asked for before. */
  readonly id?: string;
}

/** How often it is asked how far the archive is, first and later. */
const FIRST_LOOK_MS = 200;
const LATER_LOOKS_MS = 2_000;

/** What the service says of an archive, as far as it is needed here. */
interface ArchiveState {
  readonly id: string;
  readonly state: string;
  readonly wanted: number;
  readonly done: number;
  readonly missingCount: number;
  readonly bytes: number;
  readonly manifestHash: string | null;
  readonly error: string | null;
  readonly missing?: readonly { readonly assembly: string; readonly serial: string }[];
}

/**
 * Has the histories of units put into one file and fetches it.
 * @param serials all units of the assembly where there are none
 * @returns the exit code: 0 written, 1 refused, failed or unreachable, 2 arguments or environment cannot be used, 3 written, but
 * units are missing
 */
export function archive(
  assembly: string | undefined,
  serials: readonly string[],
  { format = [], output, id }: ArchiveOptions,
): Promise<number> {
  return withService(async (client) => {
    if (id === undefined && assembly === undefined) {
      throw new UnusableInput('name an assembly, or an archive with --id');
    }
    const progress = new ProgressLine(process.stderr);
    try {
      const asked = id ?? (await ask(client, { assembly, serials, format }));
      const made = await waitFor(client, asked, progress);
      const file = output ?? `${(assembly ?? asked).replaceAll(':', '_')}.zip`;
      const wish = { id: made.id, bytes: made.bytes, manifestHash: String(made.manifestHash), output: file };
      await downloadArchive(client, wish, (have) => {
        progress.tell('bytes fetched', have, made.bytes);
      });
      progress.end();
      const units = String(made.wanted - made.missingCount);
      process.stderr.write(`${file}: ${units} units; check it with heatbook verify\n`);
      return tellMissing(made) ? 3 : 0;
    } finally {
      progress.end();
    }
  });
}

async function ask(
  client: ServiceClient,
  {
    assembly,
    serials,
    format,
  }: { assembly: string | undefined; serials: readonly string[]; format: readonly string[] },
): Promise<string> {
  const body = {
    assembly,
    ...(serials.length > 0 && { serials }),
    ...(format.length > 0 && { formats: format }),
  };
  const { id } = await client.ask('POST', '/v1/audits', body);
  process.stderr.write(`archive ${String(id)}\n`);
  return String(id);
}

/** @throws ServiceRefused where nothing comes of it */
async function waitFor(client: ServiceClient, id: string, progress: ProgressLine): Promise<ArchiveState> {
  for (let pauseMs = FIRST_LOOK_MS; ; pauseMs = Math.min(2 * pauseMs, LATER_LOOKS_MS)) {
    const now = (await client.ask('GET', `/v1/audits/${encodeURIComponent(id)}`)) as unknown;
    if (!isArchiveState(now)) throw new ServiceRefused('the service answers with something that is no archive');
    progress.tell('units settled', now.done, now.wanted);
    if (now.state === 'done') return now;
    if (now.state === 'failed' || now.state === 'cancelled') {
      throw new ServiceRefused(`the archive is ${now.state}${now.error === null ? '' : `: ${now.error}`}`);
    }
    await delay(pauseMs);
  }
}

function isArchiveState(value: unknown): value is ArchiveState {
  if (typeof value !== 'object' || value === null) return false;
  const { id, state, wanted, done, bytes } = value as Partial<Record<keyof ArchiveState, unknown>>;
  return typeof id === 'string' && typeof state === 'string' && [wanted, done, bytes].every(Number.isSafeInteger);
}

/** @returns whether units are missing */
function tellMissing({ missing = [] }: ArchiveState): boolean {
  for (const { assembly, serial } of missing) process.stderr.write(`missing: ${assembly}/${serial}\n`);
  return missing.length > 0;
}
