import { Client } from 'undici';

/** Somebody who asks one api. */
export interface Asker {
  readonly client: Client;
  readonly headers: Readonly<Record<string, string>>;
}

/** Whoever asks, and for which paths, one after the other. */
export interface Questions {
  readonly asker: Asker;
  readonly paths: readonly string[];
}

/**
 * Asks one question of each in turns, one at a time, so that whatever slows the machine for a moment slows either.
 * @returns for each how long its answers took, ms
 * @throws Error where an answer is not 200
 */
export async function askInTurns(all: readonly Questions[]): Promise<number[][]> {
  const took = all.map((): number[] => []);
  const turns = Math.max(...all.map(({ paths }) => paths.length));
  for (let turn = 0; turn < turns; turn += 1) {
    for (const [n, { asker, paths }] of all.entries()) {
      const path = paths[turn];
      if (path !== undefined) took[n]?.push(await ask(asker, path));
    }
  }
  return took;
}

async function ask({ client, headers }: Asker, path: string): Promise<number> {
  const began = performance.now();
  const { statusCode, body } = await client.request({ method: 'GET', path, headers });
  const text = await body.text();
  const tookMs = performance.now() - began;
  if (statusCode !== 200) throw new Error(`GET ${path}: ${String(statusCode)} ${text.slice(0, 500)}`);
  return tookMs;
}
