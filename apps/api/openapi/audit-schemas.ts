import { anything, count, hash, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const size: Schema = { type: 'integer', minimum: 1 };
const path = list(hash);
const place = { subject: text, seq: size, hash };
const inclusion = record({ ...place, index: count, path });

const logEvidence = record(
  {
    origin: text,
    checkpoint: text,
    keys: list(record({ vkey: text, since: time, endorsement: orNull(text) })),
    inclusion: list(inclusion),
    consistency: list(record({ from: size, to: size, path })),
    censuses: list(
      record({
        entry: ref('Entry'),
        inclusion,
        group: record({ group: text, ledgers: count, entries: count, root: hash }),
        groupIndex: count,
        groupPath: path,
        ledger: record(place),
        ledgerIndex: count,
        ledgerPath: path,
      }),
    ),
    censusesLeftOut: count,
  },
  'Where the entries stand in the site-wide log (RFC 6962), under a signed checkpoint.',
);

/** What exports look like. */
export const AUDIT_SCHEMAS: Record<string, Schema> = {
  Audit: record(
    {
      format: { const: 'heatbook-audit' },
      version: { const: 2 },
      subject: text,
      assembly: text,
      serial: text,
      exportedAt: time,
      audience: record({ for: oneOf('house', 'customer'), leftOut: list(text) }),
      unit: anything,
      holds: list(anything),
      configuration: list(
        record({ kind: text, name: text, revision: size, version: size, body: anything, by: text, at: time }),
      ),
      traces: list(record({ name: text, contentHash: hash, by: text, at: time, bytes: count })),
      people: list(record({ commitment: hash, name: text, printedName: orNull(text), salt: orNull(hash) })),
      entries: list(ref('Entry')),
      count,
      headHash: hash,
      devices: list(record({ device: text, entries: list(ref('Entry')), count, headHash: hash })),
      log: orNull(logEvidence),
      seal: hash,
      statement: orNull(text),
    },
    'docs/audit-format.md says what each member means and how to check it.',
  ),
};
