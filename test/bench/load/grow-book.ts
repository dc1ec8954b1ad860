import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { text } from 'node:stream/consumers';
import pg from 'pg';
import { from, to } from 'pg-copy-streams';
import { copyName, filled, LineTemplate, lineTemplate } from './line-template.js';
import { MARK, OPEN_BOARD, PLAIN_BOARDS, RELEASED_BOARD } from './pattern-boards.js';
import { setAsideIndexes } from './set-aside-indexes.js';

export interface GrownSize {
  /** Entries in all ledgers together, about. */
  readonly entries: number;
  /** Boards with open holds: what a desk has, however large the book. */
  readonly openBoards: number;
}

export interface GrownBook {
  /** All that there are. */
  readonly entries: number;
  /** Copies, which `serial` names. */
  readonly units: number;
  /** The serial number of one of the units; from 0. */
  serial(unit: number): string;
}

/** How many times the hundred boards are done in a day: ten million entries are some years. */
const TIMES_A_DAY = 5;
/** Days of which boards are still open. */
const DESK_DAYS = 14;

/** Written anew from nothing: nearly all of the book. No other table refers to them. */
const LARGE = ['ledger_entry', 'subject'];
/** Added to. */
const SMALL = ['hold', 'clearance', 'clearance_reach'];

/** The rows of one table: those that are there, and templates of those that are to be multiplied. */
interface Pattern {
  readonly there: string;
  readonly ordinary: readonly LineTemplate[];
  readonly open: readonly LineTemplate[];
}

/** How many times each kind of board is copied. */
interface Times {
  readonly ordinary: number;
  readonly open: number;
}

/**
 * Multiplies the pattern boards of a book straight in Postgres, under new names and on earlier days, in every table that pages
 * of units, ledgers and holds are read from. Inbox, log, marks and the stream of changes are left as they are, and hashes are
 * not made anew: it is a book to be read, not one to be checked or gone on with. Its two large tables are not written ahead
 * to the log of Postgres, since nothing here outlives a crash.
 * @param databaseUrl of its owner, a superuser: for anybody else row security and triggers would be in the way
 */
export async function growBook(databaseUrl: string, { entries, openBoards }: GrownSize): Promise<GrownBook> {
  const clients = await Promise.all(LARGE.map(() => openLoader(databaseUrl)));
  const [client] = clients;
  if (client === undefined) throw new Error('each large table has a connection');
  try {
    const ledger = await patternOf(client, 'ledger_entry');
    const single = ledger.there.split('\n').length - 1 + openBoards * ledger.open.length;
    const ordinary = Math.max(1, Math.round((entries - single) / ledger.ordinary.length));
    const times = { ordinary, open: openBoards };
    for (const table of SMALL) await copy(client, table, copiesOf(await patternOf(client, table), times));
    await Promise.all(clients.map((one, n) => rewrite(one, LARGE[n] ?? '', times)));
    await client.query(`VACUUM (ANALYZE) ${[...LARGE, ...SMALL].join(', ')}`);
    await client.query('CHECKPOINT');
    const boards = PLAIN_BOARDS + 1;
    return {
      entries: ordinary * ledger.ordinary.length + single,
      units: ordinary * boards + openBoards,
      serial: (unit) => {
        const place = unit - ordinary * boards;
        return place >= 0
          ? OPEN_BOARD.replace(MARK, copyName(ordinary + place))
          : ordinarySerial(unit % boards).replace(MARK, copyName(Math.floor(unit / boards)));
      },
    };
  } finally {
    await Promise.all(clients.map((one) => one.end()));
  }
}

function ordinarySerial(board: number): string {
  return board === PLAIN_BOARDS ? RELEASED_BOARD : `${MARK}-${String(board)}`;
}

async function openLoader(databaseUrl: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  // Triggers, among them those that tell log and stream, and checks of references do not fire for such a session.
  await client.query(`SET session_replication_role = replica`);
  await client.query(`SET synchronous_commit = off`);
  await client.query(`SET maintenance_work_mem = '1GB'`);
  return client;
}

async function rewrite(client: pg.Client, table: string, times: Times): Promise<void> {
  const pattern = await patternOf(client, table);
  await client.query(`ALTER TABLE ${table} SET UNLOGGED`);
  const putBack = await setAsideIndexes(client, table);
  // Into a table emptied in the same transaction rows go as seen by everybody, so that no read has to mark them later.
  await client.query('BEGIN');
  await client.query(`TRUNCATE ${table}`);
  await copy(client, table, [pattern.there], 'WITH (FREEZE)');
  await copy(client, table, copiesOf(pattern, times), 'WITH (FREEZE)');
  await client.query('COMMIT');
  await putBack();
}

async function patternOf(client: pg.Client, table: string): Promise<Pattern> {
  const there = await text(client.query(to(`COPY ${table} TO STDOUT`)));
  const lines = there.split('\n').filter((line) => line.includes(MARK));
  const isOpen = (line: string): boolean => line.includes(OPEN_BOARD);
  const templates = (some: readonly string[]) => some.map((line) => lineTemplate(`${line}\n`, MARK));
  return { there, ordinary: templates(lines.filter((line) => !isOpen(line))), open: templates(lines.filter(isOpen)) };
}

/** Boards that are done side by side at a time; the open ones came in the last days. */
function* copiesOf({ ordinary, open }: Pattern, times: Times): Generator<string> {
  const withOpen = Math.min(times.ordinary, DESK_DAYS * TIMES_A_DAY);
  let opened = 0;
  for (let n = 0; n < times.ordinary; n += 1) {
    const left = times.ordinary - n - 1;
    const daysBack = Math.floor(left / TIMES_A_DAY);
    const lines = ordinary.map((template) => filled(template, { number: n, daysBack }));
    for (; opened < (1 - left / withOpen) * times.open; opened += 1) {
      lines.push(...open.map((template) => filled(template, { number: times.ordinary + opened, daysBack })));
    }
    yield lines.join('');
  }
}

async function copy(client: pg.Client, table: string, texts: Iterable<string>, how = ''): Promise<void> {
  await pipeline(Readable.from(texts), client.query(from(`COPY ${table} FROM STDIN ${how}`)));
}
