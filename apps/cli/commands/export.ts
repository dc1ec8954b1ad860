import { checkpointSize } from '../export/checkpoint-size.js';
import { receive, writeWholeFile } from '../export/write-whole-file.js';
import { withService } from '../service/with-service.js';

export interface ExportOptions {
  readonly format: string;
  /** Files with checkpoints that were kept. */
  readonly sinceCheckpoint?: readonly string[];
  /** Standard output without. */
  readonly output?: string;
}

/**
 * Fetches the audit of a unit.
 * @returns the exit code: 0 it is whole, 1 refused, cut or unreachable, 2 the environment cannot be used
 */
export function exportAudit(
  assembly: string,
  serial: string,
  { format, sinceCheckpoint = [], output }: ExportOptions,
): Promise<number> {
  return withService(async (client) => {
    const query = new URLSearchParams({ format });
    for (const file of sinceCheckpoint) query.append('since', String(await checkpointSize(file)));
    const path = `/v1/units/${encodeURIComponent(assembly)}/${encodeURIComponent(serial)}/audit?${query.toString()}`;
    const response = await client.send('GET', path, {});
    if (!response.ok) throw await client.refusal(response);
    if (output === undefined) await receive(response, process.stdout);
    else await writeWholeFile(output, response);
    return 0;
  });
}
