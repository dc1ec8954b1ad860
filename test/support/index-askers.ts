import { randomUUID } from 'node:crypto';
import { BookTransaction } from '../../libs/ledger/ports/book-store.js';
import { Database } from '../../libs/postgres/open-database.js';
import { PgAccessStore } from '../../libs/postgres/pg-access-store.js';
import { PgArchiveStore } from '../../libs/postgres/pg-archive-store.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgChangeStore } from '../../libs/postgres/pg-change-store.js';
import { PgContainmentStore } from '../../libs/postgres/pg-containment-store.js';
import { PgCustomerReads } from '../../libs/postgres/pg-customer-reads.js';
import { pgIdentity } from '../../libs/postgres/pg-identity.js';
import { PgKeyStore } from '../../libs/postgres/pg-key-store.js';
import { PgLedgerSearch } from '../../libs/postgres/pg-ledger-search.js';
import { PgNoticeStore } from '../../libs/postgres/pg-notice-store.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { PgRetentionStore } from '../../libs/postgres/pg-retention-store.js';
import { PgStationStore } from '../../libs/postgres/pg-station-store.js';

const page = { limit: 10, cursor: null };
const NOW = '2026-06-01T00:00:00.000Z';
const EARLIER = '2026-05-01T00:00:00.000Z';
const BY_ADMIN = { by: 'admin', at: NOW };
const QUINN = { printedName: 'Quinn', roles: ['quality'], customer: null, disabled: false } as const;
const ERASURE = {
  note: '',
  signed: { act: 'erase' },
  signature: { by: 'rita', named: 'c', at: NOW, meaning: '', contentHash: 'h' },
};

/**
 * For each index that no constraint needs, one question of the product that it is there for. Names are those of
 * `index-book.ts`.
 */
export function indexAskers(database: Database): Readonly<Record<string, () => Promise<unknown>>> {
  const { pool, dataSource, customerPool, confined } = database;
  const read = new PgReadStore(pool);
  const book = new PgBookStore(pool);
  const search = new PgLedgerSearch(pool);
  const notices = new PgNoticeStore(pool);
  const retention = new PgRetentionStore(pool);
  const containments = new PgContainmentStore(pool);
  const access = new PgAccessStore(pool);
  const { people, sessions, attempts } = pgIdentity(pool);
  const inShard = (work: (tx: BookTransaction) => Promise<unknown>): Promise<unknown> => book.withShards([3], work);
  return {
    ledger_entry_by_event: () => read.eventStatus({ source: '/stations/S-1', id: 'E-77' }),
    ledger_entry_site_work: () => read.siteWork({ from: EARLIER, to: NOW, limit: 10 }),
    ledger_entry_by_time: () =>
      search.factsWithin({ from: EARLIER, to: '2026-05-01T01:00:00Z' }, { after: null, limit: 10 }),
    ledger_entry_departures: () => retention.due({ terms: [{ customer: 'Alder', keepYears: 1 }], before: NOW }, page),
    subject_units: () => read.units({}, page),
    subject_units_by_serial: () => read.unitsNamed({ serial: 'U-77' }, 10),
    subject_open: () => read.openSubjects('unit', null, 10),
    subject_by_clock: () => notices.clocksDue({ now: NOW, after: null, limit: 10 }),
    intake_pending_by_shard: () => inShard((tx) => tx.claim([3], 10)),
    intake_pending_of_devices: () => inShard((tx) => tx.claimDevices(['devices/D-77'])),
    hold_by_stream: () => read.holdsOn(['A-1/U-77']),
    hold_by_unit: () => inShard((tx) => tx.holds(['A-1/U-77'])),
    hold_by_age: () => read.holds({}, page),
    hold_open_by_age: () => read.holds({ state: 'open' }, page),
    hold_by_graveness: () => read.holds({ state: 'withdrawn' }, page, 'graveness'),
    hold_by_serial: () => read.holds({ assembly: 'A-1', serial: 'U-77' }, page),
    hold_by_device: () => read.holds({ device: 'D-77' }, page),
    hold_by_containment: () => read.holds({ containment: randomUUID() }, page),
    hold_open_by_assignee: () => read.holds({ state: 'open', assignee: 'quinn' }, page),
    hold_open_by_due: () => notices.holdsOverdue({ now: EARLIER, after: null, limit: 10 }),
    hold_open_by_station: () => new PgStationStore(pool).standings(['S-1']),
    clearance_by_age: () => read.clearanceList({}, NOW, page),
    clearance_by_subject: () => read.clearanceList({ assembly: 'A-1', serial: 'U-77' }, NOW, page),
    clearance_running: () => book.clearancesOver(NOW, 10),
    request_answer_by_age: () => book.forgetAnswers('2020-01-01T00:00:00Z'),
    change_note_by_age: () => new PgChangeStore(pool).forget('2020-01-01T00:00:00Z'),
    access_record_by_time: () => access.list({}, page),
    access_record_by_caller: () => access.list({ caller: 'C-7' }, page),
    access_key_live: () => new PgKeyStore(dataSource).live({ role: 'station', name: 'S-1' }),
    assembly_customer_by_customer: () => new PgCustomerReads(customerPool, confined).of('Alder').units({}, page),
    containment_by_age: () => containments.list(page),
    containment_under_way: () => containments.abandoned(NOW, NOW),
    limit_recheck_due: () => book.rechecksDue(NOW),
    notice_by_due: () => notices.list({}, page),
    notice_standing: () => notices.standing(['moisture']),
    legal_hold_by_age: () => retention.legalHolds(undefined, page),
    archive_by_age: () => new PgArchiveStore(pool).list(null, page),
    person_session_by_person: async () => {
      await people.add('quinn', QUINN, '$argon2id$', BY_ADMIN);
      await sessions.begin({ tokenHash: 'h', person: 'quinn', startedAt: NOW, seenAt: NOW }, 1);
    },
    person_name_by_account: () => people.erase('quinn', ERASURE, BY_ADMIN),
    password_attempt_by_age: () =>
      attempts.inTurn('who', () => Promise.resolve({ keep: { failures: 1, lastAt: NOW }, result: undefined })),
  };
}
