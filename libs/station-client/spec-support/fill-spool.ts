import { StationError } from '../errors.js';
import { Spool } from '../spool/spool.js';

/** Puts events into the spool that its argument names until the disk takes no more, twice, and prints what was kept and refused. */
const spool = await Spool.open({ folder: process.argv[2] ?? '', maxBytes: 1_000_000, segmentBytes: 1_000_000 });
const kept: string[] = [];
const refusals: string[] = [];
for (let n = 0; refusals.length < 2; n += 1) {
  // Several, so that the part that is written in the end has whole ones in it.
  const events = Array.from({ length: 10 }, (_, one) => JSON.stringify({ n, one, text: 'x'.repeat(60) }));
  try {
    // A file is left where it was full, so the next one takes some again.
    await spool.append(events);
    kept.push(...events);
  } catch (error) {
    if (!(error instanceof StationError)) throw error;
    refusals.push(error.name);
  }
}
await spool.close();
process.stdout.write(JSON.stringify({ kept, refusals }));
