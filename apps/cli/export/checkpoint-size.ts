import { readFile } from 'node:fs/promises';
import { readKeptCheckpoint } from '../../../libs/evidence/verify/kept.js';
import { parseCheckpoint } from '../../../libs/ledger/log/notes/checkpoint.js';
import { parseNote } from '../../../libs/ledger/log/notes/signed-note.js';
import { ServiceRefused } from '../service/service-client.js';

/**
 * How many entries the log had at a checkpoint that was kept: a signed checkpoint, or an audit that has one.
 * @throws ServiceRefused where the file holds none
 */
export async function checkpointSize(file: string): Promise<number> {
  const text = await readFile(file, 'utf8').catch((error: unknown) => {
    throw new ServiceRefused(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  });
  const kept = readKeptCheckpoint(text);
  const checkpoint = kept && parseCheckpoint(parseNote(kept.note)?.text ?? '');
  if (checkpoint !== undefined) return checkpoint.size;
  throw new ServiceRefused(
    `${file} holds no checkpoint: give a signed checkpoint, or an audit in JSON that was exported earlier and has one`,
  );
}
