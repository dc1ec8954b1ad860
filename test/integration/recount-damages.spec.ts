import pg from 'pg';
import { Difference } from '../../libs/ledger/recount/difference.js';
import { PgRecountStore } from '../../libs/postgres/pg-recount-store.js';
import { harnessOn } from '../support/book-harness.js';
import { makeEventful } from '../support/eventful-book.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { HandClock } from '../support/hand-clock.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { recounted } from '../support/recounted.js';

let sound: FreshDatabase;

beforeAll(async () => {
  sound = await migratedDatabase();
  const clock = new HandClock(Date.UTC(2026, 3, 1, 8));
  const book = await harnessOn(sound.url, clock);
  await makeEventful(book, clock);
  await book.close();
}, 60_000);

afterAll(() => sound.drop());

/** Does something to a copy of the book as somebody who may do anything, and recounts it. */
async function recountAfter(...statements: readonly string[]): Promise<readonly string[]> {
  const copy = await freshDatabase(new URL(sound.url).pathname.slice(1));
  const pool = new pg.Pool({ connectionString: copy.url, max: 1 });
  try {
    // No trigger and no foreign key refuses what a faulty disk would not have asked about.
    await pool.query('SET session_replication_role = replica');
    for (const statement of statements) {
      const { rowCount } = await pool.query(statement);
      if (rowCount === 0) throw new Error(`met no row: ${statement}`);
    }
    return (await recounted(new PgRecountStore(pool))).differences.map(inLine);
  } finally {
    await pool.end();
    await copy.drop();
  }
}

function inLine({ subject, what, kept, recomputed }: Difference): string {
  return `${subject}: ${what}: kept ${kept}; recomputed ${recomputed}`;
}

it('finds nothing where nothing was done', async () => {
  expect(await recountAfter('SELECT 1')).toEqual([]);
});

const STATE_OF = (key: string, path: string, value: string): string =>
  `UPDATE subject SET state = jsonb_set(state::jsonb, '${path}', '${value}')::text WHERE key = '${key}'`;

describe.each<[string, readonly string[], readonly RegExp[]]>([
  [
    'a tally that was put up',
    [STATE_OF('PAIR/2', '{sites,U1,reworks,prior,count}', '7')],
    [/^PAIR\/2: sites\.U1\.reworks\.prior\.count: kept 7; recomputed 0$/],
  ],
  [
    'an excursion that was taken out of a tally',
    [STATE_OF('devices/N2', '{excursions,counted}', '[]')],
    [/^devices\/N2: excursions\.counted: kept 0, .*; recomputed 1, /],
  ],
  [
    'a device that was put elsewhere',
    [STATE_OF('devices/N2', '{place,refdes}', '"U2"')],
    [/^devices\/N2: place\.refdes: kept U2; recomputed U1$/],
  ],
  [
    'a story that is told further than its facts',
    [STATE_OF('PAIR/2', '{last,id}', '"e99999"')],
    [/^PAIR\/2: last: kept /],
  ],
  [
    'a unit that has forgotten which devices it had',
    [STATE_OF('PAIR/2', '{devicesSeen}', '[]')],
    [/^PAIR\/2: devicesSeen: kept without N2; recomputed with N2$/],
  ],
  [
    'a device that has forgotten where it was',
    [STATE_OF('devices/N2', '{unitsSeen}', '[]')],
    [/^devices\/N2: unitsSeen: kept without PAIR\/2; recomputed with PAIR\/2$/],
  ],
  [
    'a state that is gone',
    [`UPDATE subject SET state = NULL, kind = NULL WHERE key = 'PAIR/2'`],
    [/^PAIR\/2: state: kept none; recomputed a unit$/],
  ],
  [
    'a subject that is gone',
    [`DELETE FROM subject WHERE key = 'PAIR/2'`],
    [/^PAIR\/2: subject: kept none; /, /^PAIR\/2: state: /],
  ],
  [
    'a hold of the rules that is gone',
    [`DELETE FROM hold WHERE reason = 'sequence-broken'`],
    [/^PAIR\/2.*: hold "sequence-broken .*: kept none; recomputed called for by event /],
  ],
  [
    'a hold by hand that is gone',
    [`DELETE FROM hold WHERE reason = 'by-hand' AND state = 'open'`],
    [/^PAIR\/\d: hold [0-9a-f-]{36}: kept none; recomputed hold-raised, told by entry \d+$/],
  ],
  [
    'a hold that nobody called for',
    [
      `INSERT INTO hold SELECT (h).* FROM (SELECT jsonb_populate_record(hold, jsonb_build_object('id', gen_random_uuid(),
         'causes', '[{"at": "2026-04-01T08:00:00.000000000Z", "source": "/stations/BENCH", "id": "never"}]'::jsonb)) AS h
       FROM hold WHERE reason = 'sequence-broken' LIMIT 1) made`,
    ],
    [/: hold .*, its cause: kept event never of \/stations\/BENCH; recomputed none$/],
  ],
  [
    'a hold that was opened again past its release',
    [`UPDATE hold SET state = 'open', release = NULL WHERE state = 'released'`],
    [/: hold .*, release: kept \[\]; /, /: hold .*, state: kept open; recomputed released$/],
  ],
  [
    'a hold that was taken back',
    [`UPDATE hold SET state = 'withdrawn', touched = false WHERE reason = 'sequence-broken'`],
    [/: hold "sequence-broken .*: kept none; recomputed called for by event /],
  ],
  [
    'a hold that says something else',
    [`UPDATE hold SET remedy = 'Nothing.' WHERE reason = 'sequence-broken'`],
    [/: hold .*, its evidence: kept .*Nothing\./],
  ],
  [
    'an entry that was changed',
    [`UPDATE ledger_entry SET bytes = replace(bytes, 'BENCH', 'BANCH') WHERE subject = 'PAIR/2' AND seq = 2`],
    [/^PAIR\/2: entry 2, hash of its bytes: /, /^log: site-wide log: /],
  ],
  [
    'an entry in the middle that is gone',
    [`DELETE FROM ledger_entry WHERE subject = 'PAIR/2' AND seq = 2`],
    [
      /^PAIR\/2: entry 2: kept none; /,
      /^PAIR\/2: event \S+ of .*: kept accepted and nowhere else; /,
      /^log: .*entry 2 of PAIR\/2 is gone/,
    ],
  ],
  [
    'a last entry that is gone',
    [
      `DELETE FROM ledger_entry WHERE subject = 'PAIR/1' AND seq = (SELECT max(seq) FROM ledger_entry WHERE subject = 'PAIR/1')`,
    ],
    [/^PAIR\/1: head of the ledger: kept /],
  ],
  [
    'a ledger that was written anew with its head, as far as nobody had been told',
    [
      `UPDATE ledger_entry SET bytes = replace(bytes, '"BENCH"', '"BANCH"') WHERE subject = 'devices/N2' AND seq = 1`,
      `UPDATE ledger_entry SET hash = encode(sha256(convert_to(bytes, 'UTF8')), 'hex') WHERE subject = 'devices/N2' AND seq = 1`,
    ],
    [
      /^devices\/N2: entry 2, hash of the one before: |^devices\/N2: head of the ledger: /,
      /^log: .*entry 1 of devices\/N2 is another than the log has/,
    ],
  ],
  [
    'a head that is wrong',
    [`UPDATE subject SET head_seq = head_seq + 1 WHERE key = 'PAIR/1'`],
    [/^PAIR\/1: head of the ledger: kept /],
  ],
  [
    'an entry that is filed as something else',
    [`UPDATE ledger_entry SET type = 'heatbook.site.cleaned.v1' WHERE subject = 'PAIR/1' AND seq = 2`],
    [/^PAIR\/1: entry 2, what it is looked up by: /],
  ],
  [
    'leaves of the log that were swapped',
    [`UPDATE log_leaf l SET hash = (SELECT hash FROM log_leaf o WHERE o.index = 1 - l.index) WHERE index < 2`],
    [/^log: site-wide log: kept entry \d+ of .* is another than the log has/],
  ],
  [
    'a leaf that is gone',
    [`DELETE FROM log_leaf WHERE index = 3`],
    [/^log: site-wide log: kept leaves 3 to 3 are gone from the log/],
  ],
  [
    'a mark that is gone',
    [`DELETE FROM mark_group WHERE mark = 'station BENCH'`],
    [/: mark "station BENCH" of entry \d+: kept none; /],
  ],
  [
    'a mark of another hour',
    [`UPDATE mark_group SET hour = hour + interval '1 hour' WHERE mark = 'station BENCH'`],
    [/: mark "station BENCH" of entry \d+: kept 2026-.*; recomputed none/],
  ],
  [
    'a pending event that is gone',
    [`DELETE FROM intake_pending`],
    [/^PAIR\/1: event pending of .*: kept accepted and nowhere else; /],
  ],
  [
    'a parked event that is gone',
    [`DELETE FROM intake_parked`],
    [
      /^UNHEARD\/1: event parked of .*: kept accepted and nowhere else; /,
      /^UNHEARD\/1: hold .*, its cause: kept event parked /,
    ],
  ],
  [
    'the hold of a parked event that is gone',
    [`DELETE FROM hold WHERE reason = 'event-parked'`],
    [/^UNHEARD\/1: event parked of .*: kept parked without a hold; /],
  ],
  [
    'an event that waits though it was told',
    [
      `INSERT INTO intake_pending (number, shard, subject) SELECT number, 0, subject FROM intake_event ORDER BY number LIMIT 1`,
    ],
    [/: event opening-0 of .*: kept pending and told; /],
  ],
  [
    'an accepted event that is gone',
    [`DELETE FROM intake_event WHERE event_id = 'opening-0'`],
    [/: event of entry 1: kept told; recomputed was never accepted$/],
  ],
  [
    'a step of a clearance that is free again',
    [
      `UPDATE clearance SET steps = jsonb_set(steps::jsonb, '{0,use}', 'null')::json WHERE steps::jsonb -> 0 -> 'use' <> 'null'`,
    ],
    [/^PAIR\/2: clearance .*, use of step 0: kept null; recomputed \{/],
  ],
  [
    'a clearance that is gone',
    [`DELETE FROM clearance`],
    [/^PAIR\/2: clearance .*: kept none; recomputed clearance-granted, told by entry \d+$/],
  ],
])('finds %s', (_, damage, expected) => {
  it('and names it', async () => {
    const found = await recountAfter(...damage);
    for (const line of expected) expect(found).toContainEqual(expect.stringMatching(line));
    // What is not concerned is not talked about.
    expect(found.length).toBeLessThan(60);
  });
});
