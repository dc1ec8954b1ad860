import { count, hash, list, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const size: Schema = { type: 'integer', minimum: 1 };
const place = { subject: text, seq: size, hash };
const census = {
  day: { type: 'string', format: 'date' },
  size,
  logRoot: hash,
  groups: count,
  ledgers: count,
  entries: count,
  root: hash,
  seq: size,
  recordedAt: time,
  hash,
};

/** The site-wide log as routes answer it. */
export const LOG_SCHEMAS: Record<string, Schema> = {
  LogKeys: record(
    { origin: text, keys: list(record({ vkey: text, since: time, endorsement: orNull(text) })) },
    'Keys as verifier keys of a signed note. `endorsement` is a signed note by the key before; null for the first, and where that one was lost.',
  ),
  ConsistencyProof: record({ from: size, to: size, path: list(hash) }),
  SizedInclusionProof: record(
    { ...place, index: count, size, path: list(hash) },
    'The leaf is the hash of the entry, as 32 bytes; `path` leads from it to the root of the log of `size` entries.',
  ),
  LogLeaves: record({ items: list(record({ ...place, index: count })), nextFrom: orNull(count) }),
  Census: record(
    census,
    'The last entry of each ledger among the first `size` of the log, counted at the end of a UTC day.',
  ),
  CensusGroup: record({ group: text, ledgers: count, entries: count, root: hash }),
  CensusWithGroups: record({ ...census, groupList: list(ref('CensusGroup')) }),
};
