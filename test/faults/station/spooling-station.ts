import { existsSync } from 'node:fs';
import { setTimeout as delay } from 'node:timers/promises';
import { openStation } from '../../../libs/station-client/index.js';
import { events, ordinaryJob, SHOP } from '../../support/small-shop.js';
import { Journal, readJournal } from './journal.js';

/**
 * A station that works on one board after the other and tells of it through the client, to be killed at any moment and started anew:
 * it goes on where its own list ends. With FINISH=1 it ends with the board that it is at, delivers everything, and leaves with 0.
 */
const { HEATBOOK_URL: url = '', HEATBOOK_KEY: key = '', SPOOL: spool = '', JOURNAL: file = '', FINISH } = process.env;
const MOST_PAUSE_MS = 5;

const journal = await Journal.open(file);
const station = await openStation({
  station: SHOP.bench,
  url,
  key,
  spool,
  // Small, so that kills meet new files and files that are done with, and batches that go half.
  segmentBytes: 8_000,
  batchEvents: 20,
  timeoutMs: 5_000,
  pace: { baseMs: 20, capMs: 200 },
});
process.stdout.write('station is up\n');

const listed = existsSync(file) ? readJournal(file) : { events: [], kept: 0 };
for (const event of listed.events.slice(listed.kept)) {
  await station.post(event);
  await journal.kept();
}
for (let next = listed.events.length; ; next += 1) {
  const board = eventsOfBoard(Math.floor(next / eventsOfBoard(0).length));
  const step = next % board.length;
  if (FINISH === '1' && step === 0) break;
  const event = board[step] ?? {};
  await journal.intend(event);
  await station.post(event);
  await journal.kept();
  await delay(Math.random() * MOST_PAUSE_MS);
}
await station.drain({ timeoutMs: 60_000 });
const { pending, rejected, damaged } = station.status();
await station.close();
process.stdout.write(`${JSON.stringify({ pending, rejected, damaged: damaged.length })}\n`);

function eventsOfBoard(board: number): object[] {
  const serial = `K-${String(board).padStart(5, '0')}`;
  return events(serial, ordinaryJob(`D-${serial}`));
}
