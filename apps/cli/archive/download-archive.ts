import { open, rename, stat } from 'node:fs/promises';
import { setTimeout as delay } from 'node:timers/promises';
import { isBrokenOff, ServiceClient, ServiceRefused } from '../service/service-client.js';

/** Tries that brought nothing before the download is given up; it can be gone on with later. */
const MOST_TRIES = 5;
const PAUSE_MS = 1_000;

export interface DownloadWish {
  readonly id: string;
  readonly bytes: number;
  readonly manifestHash: string;
  readonly output: string;
}

/**
 * Downloads an archive that is done. What comes is written beside the output, under a name with the archive's id; where that is there
 * already, the download goes on after it. The output appears once everything is there.
 * @param progress told of the bytes that are there
 * @throws ServiceRefused, and what writing throws
 */
export async function downloadArchive(
  client: ServiceClient,
  { id, bytes, manifestHash, output }: DownloadWish,
  progress: (have: number) => void,
): Promise<void> {
  const part = `${output}.${id}.part`;
  let tries = 0;
  for (let have = await sizeOf(part); have !== bytes;) {
    try {
      const from = have < bytes ? have : 0;
      await fetchFrom(client, { id, manifestHash, part, from }, progress);
    } catch (error) {
      if (!isBrokenOff(error)) throw error;
    }
    const now = await sizeOf(part);
    tries = now > have ? 0 : tries + 1;
    have = now;
    if (have !== bytes && tries >= MOST_TRIES) {
      throw new ServiceRefused(
        `the download broke off after ${String(have)} of ${String(bytes)} bytes; go on with --id ${id}`,
      );
    }
    if (have !== bytes) await delay(PAUSE_MS);
  }
  await rename(part, output);
}

async function fetchFrom(
  client: ServiceClient,
  { id, manifestHash, part, from }: { id: string; manifestHash: string; part: string; from: number },
  progress: (have: number) => void,
): Promise<void> {
  const etag = `"${manifestHash}"`;
  const range = from === 0 ? {} : { range: `bytes=${String(from)}-`, 'if-range': etag };
  const response = await client.send('GET', `/v1/audits/${id}/archive`, { headers: range });
  if (!response.ok || response.body === null) throw await client.refusal(response);
  if (response.headers.get('etag') !== etag) throw new ServiceRefused('the archive is not the one that was made');
  // All of it comes where the service passes over the range.
  const goesOn = response.status === 206;
  const file = await open(part, goesOn ? 'a' : 'w');
  try {
    let have = goesOn ? from : 0;
    for await (const piece of response.body as AsyncIterable<Uint8Array>) {
      await file.writeFile(piece);
      have += piece.length;
      progress(have);
    }
  } finally {
    await file.close();
  }
}

async function sizeOf(file: string): Promise<number> {
  return stat(file).then(
    ({ size }) => size,
    () => 0,
  );
}
