import { loadConfig } from '../../../libs/config/load-config.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';
import { checkpointSize } from '../export/checkpoint-size.js';
import { receive, writeWholeFile } from '../export/write-whole-file.js';

export interface ExportOptions {
  readonly format: string;
  /** Files with checkpoints that were kept. */
  readonly sinceCheckpoint?: readonly string[];
  /** Standard output without. */
  readonly output?: string;
}

/** Fetches the audit of a unit. @returns the exit code: 0 it is whole, 1 refused, cut or unreachable. */
export async function exportAudit(
  assembly: string,
  serial: string,
  { format, sinceCheckpoint = [], output }: ExportOptions,
): Promise<number> {
  const { client: at } = loadConfig();
  const client = new ServiceClient(at.url, at.key);
  try {
    const query = new URLSearchParams({ format });
    for (const file of sinceCheckpoint) query.append('since', String(await checkpointSize(file)));
    const path = `/v1/units/${encodeURIComponent(assembly)}/${encodeURIComponent(serial)}/audit?${query.toString()}`;
    const response = await client.send('GET', path, {});
    if (!response.ok) throw await client.refusal(response);
    if (output === undefined) await receive(response, process.stdout);
    else await writeWholeFile(output, response);
    return 0;
  } catch (error) {
    process.stderr.write(`${inWords(error, at.url)}\n`);
    return 1;
  }
}

function inWords(error: unknown, url: string): string {
  if (error instanceof ServiceRefused) return error.message;
  const why = error instanceof Error ? error.message : String(error);
  return error instanceof TypeError ? `${url} cannot be reached: ${why}` : why;
}
