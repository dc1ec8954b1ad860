import { BOOK_ENTRY_TYPES } from '../../../libs/ledger/fold/book-effect.js';
import { GENESIS_HASH } from '../../../libs/ledger/ports/seal.js';
import { SHOP } from '../../support/small-shop.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { EVENTS_A_BOARD } from './rework-line.js';

/** What `checkFolded` looked at. */
export interface CheckedEntries {
  readonly entries: number;
  /** Entries that tell anew of earlier ones: a device was met by its board before its own events, and told again after. */
  readonly rejudged: number;
}

interface Found extends CheckedEntries {
  readonly boards: number;
  readonly events: number;
  readonly misplaced: number;
  readonly doubled: number;
  readonly broken: number;
  readonly heads: number;
  readonly holds: number;
}

/**
 * `$1` and `$2` begin the ledgers of a series, `$3` its event ids, `$4` is the station, `$5` comes before a first entry, and
 * `$6` is the type of entries that tell anew.
 */
const LOOK = `
  WITH entry AS MATERIALIZED (
    SELECT subject, seq, hash, source, event_id, type,
      bytes::json->>'prevHash' AS prev_hash,
      encode(sha256(convert_to(bytes, 'UTF8')), 'hex') AS computed_hash,
      lag(hash, 1, $5) OVER chain AS hash_before,
      row_number() OVER chain AS place
    FROM ledger_entry WHERE subject ^@ $1 OR subject ^@ $2
    WINDOW chain AS (PARTITION BY subject ORDER BY seq)
  ), told AS (
    SELECT e.number, count(n.seq) AS times
    FROM intake_event e
    LEFT JOIN entry n ON n.source = e.source AND n.event_id = e.event_id AND n.subject = e.subject AND n.type = e.type
    WHERE e.source = $4 AND e.event_id ^@ $3 GROUP BY e.number
  )
  SELECT (SELECT count(*)::integer FROM subject WHERE key ^@ $1 AND kind = 'unit' AND status = 'shipped') AS boards,
    (SELECT count(*)::integer FROM told) AS events,
    (SELECT count(*)::integer FROM told WHERE times <> 1) AS misplaced,
    (SELECT count(*)::integer FROM entry) AS entries,
    (SELECT count(*)::integer FROM entry WHERE type = $6) AS rejudged,
    (SELECT count(*) - count(DISTINCT (subject, type, source, event_id)) FROM entry
     WHERE event_id IS NOT NULL)::integer AS doubled,
    (SELECT count(*)::integer FROM entry
     WHERE seq <> place OR prev_hash <> hash_before OR hash <> computed_hash) AS broken,
    (SELECT count(*)::integer FROM
       (SELECT DISTINCT ON (subject) subject, seq, hash FROM entry ORDER BY subject, seq DESC) last
       JOIN subject ON key = subject WHERE (head_seq, head_hash) IS DISTINCT FROM (seq, hash)) AS heads,
    (SELECT count(*)::integer FROM hold WHERE state <> 'withdrawn') AS holds`;

/**
 * Looks at what was folded of a series that `postBoards` sent: each event stands once in the ledger of its subject and
 * nothing is told twice, chains have neither gaps nor other hashes than those of their bytes, every board has been shipped,
 * and no hold stands.
 * @throws Error with what is wrong
 */
export async function checkFolded(
  { looking }: HeatbookProcesses,
  series: string,
  boards: number,
): Promise<CheckedEntries> {
  const values = [
    `${SHOP.assembly}/${series}-`,
    `devices/D-${series}-`,
    `${series}-`,
    `/stations/${SHOP.bench}`,
    GENESIS_HASH,
    BOOK_ENTRY_TYPES.rejudged,
  ];
  const { rows } = await looking.query<Found>(LOOK, values);
  const [found] = rows;
  if (found === undefined) throw new Error('nothing was found');
  const { entries, rejudged, ...rest } = found;
  const right = { boards, events: boards * EVENTS_A_BOARD, misplaced: 0, doubled: 0, broken: 0, heads: 0, holds: 0 };
  const wrong = Object.entries(right).filter(([name, value]) => rest[name as keyof typeof rest] !== value);
  if (wrong.length > 0) throw new Error(`series ${series} was not folded right: ${JSON.stringify(found)}`);
  return { entries, rejudged };
}
