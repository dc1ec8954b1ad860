import { Client } from 'undici';
import { AuditFormatName } from '../../../libs/evidence/audit-formats.js';
import { SHOP } from '../../support/small-shop.js';
import { elapsedMs } from '../elapsed-ms.js';

/** One api and a key that may read exports of it. */
export interface ReadableApi {
  readonly url: string;
  readonly key: string;
}

/** An export takes some seconds before its first byte; a PDF is silent while it lays out pages. */
const PATIENCE_MS = 300_000;

/**
 * Reads an export of a unit over HTTP to its end, keeping nothing of it.
 * @returns how long that took, ms
 * @throws Error where it is not answered 200, breaks off, or has less than a byte an entry
 */
export async function readExport(
  { url, key }: ReadableApi,
  { serial, entries }: { readonly serial: string; readonly entries: number },
  format: AuditFormatName,
): Promise<number> {
  const client = new Client(url, { headersTimeout: PATIENCE_MS, bodyTimeout: PATIENCE_MS });
  let bytes = 0;
  try {
    return await elapsedMs(async () => {
      const path = `/v1/units/${SHOP.assembly}/${serial}/audit?format=${format}`;
      const answer = await client.request({ method: 'GET', path, headers: { authorization: `Bearer ${key}` } });
      if (answer.statusCode !== 200)
        throw new Error(`${format}: ${String(answer.statusCode)} ${await answer.body.text()}`);
      for await (const chunk of answer.body) bytes += (chunk as Buffer).length;
      if (bytes < entries) throw new Error(`${format}: an export of ${String(bytes)} bytes cannot be whole`);
    });
  } finally {
    await client.close();
  }
}
