import { StationError } from '../errors.js';
import { Spool } from '../spool/spool.js';

/** Puts events into the spool that its argument names until the disk takes no more, twice, and prints what was kept and refused. */
const spool = await Spool.open({ folder: process.argv[2] ?? '', maxBytes: 1_000_000, segmentBytes: 1_000_000 });
const kept: string[] = [];
const refusals: string[] = [];
const json = (n: number): string => JSON.stringify({ n, text: 'x'.repeat(900) });
for (let n = 0; refusals.length < 2; n += 1) {
  try {
    // The file is left where it was full, so the next one takes some again.
    await spool.append([json(n), json(n)]);
    kept.push(json(n), json(n));
  } catch (error) {
    if (!(error instanceof StationError)) throw error;
    refusals.push(error.name);
  }
}
await spool.close();
process.stdout.write(JSON.stringify({ kept, refusals }));
