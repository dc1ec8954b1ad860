import { createWriteStream } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { ServiceRefused } from '../service/service-client.js';

/**
 * Writes what a service sends into a file beside the wanted one, and gives it the wanted name only once it is whole: a
 * download that was cut never looks like a file.
 * @throws ServiceRefused where the end is missing; nothing stays of it then
 */
export async function writeWholeFile(path: string, response: Response): Promise<void> {
  const part = `${path}.${String(process.pid)}.part`;
  const file = createWriteStream(part, { flags: 'wx', flush: true });
  try {
    await receive(response, file);
    const told = response.headers.get('content-length');
    if (told !== null && Number(told) !== file.bytesWritten) {
      throw new ServiceRefused(`${String(file.bytesWritten)} of ${told} bytes came: nothing was written; try again`);
    }
    await rename(part, path);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
}

/** @throws ServiceRefused where the connection breaks off, and what writing throws */
export async function receive(response: Response, to: NodeJS.WritableStream): Promise<void> {
  if (response.body === null) throw new ServiceRefused('the service sent nothing; try again');
  try {
    await pipeline(response.body, to, { end: to !== process.stdout });
  } catch (error) {
    // What fetch calls a connection that ends before its answer does.
    if (!(error instanceof TypeError)) throw error;
    throw new ServiceRefused('the connection broke off before the end of the export; try again', { cause: error });
  }
}
