import { Spool } from '../spool/spool.js';

/** Opens the spool that its argument names, says so, and waits to be killed. */
await Spool.open({ folder: process.argv[2] ?? '', maxBytes: 1_000_000, segmentBytes: 100_000 });
process.stdout.write('it is mine\n');
setInterval(() => undefined, 1_000);
