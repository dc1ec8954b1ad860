import { writeFile } from 'node:fs/promises';
import { loadConfig } from '../../../libs/config/load-config.js';

/** Fetches the audit of a unit. @returns the exit code: 0 written, 1 refused or unreachable. */
export async function exportAudit(assembly: string, serial: string, output: string | undefined): Promise<number> {
  const { client } = loadConfig();
  const path = `/v1/units/${encodeURIComponent(assembly)}/${encodeURIComponent(serial)}/audit?format=json`;
  try {
    const answer = await fetch(new URL(path, client.url), {
      headers: client.key === undefined ? {} : { authorization: `Bearer ${client.key}` },
    });
    const text = await answer.text();
    if (!answer.ok) {
      process.stderr.write(`${client.url} answered ${String(answer.status)}: ${text}\n`);
      return 1;
    }
    if (output === undefined) process.stdout.write(text);
    else await writeFile(output, text);
    return 0;
  } catch (error) {
    process.stderr.write(
      `${client.url} cannot be reached: ${error instanceof Error ? error.message : String(error)}\n`,
    );
    return 1;
  }
}
