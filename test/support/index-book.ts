/**
 * A book written straight into the tables, just large and mixed enough that the planner prefers the index that a question is
 * meant to take. Most of it is old: units have left, holds are closed, clearances were used.
 */
export const INDEX_BOOK: readonly string[] = [
  `INSERT INTO setup_revision (version, kind, name, revision, body, by)
   SELECT 1000 + n, 'assembly', 'A-' || n, 1, jsonb_build_object('customer', CASE n WHEN 1 THEN 'Alder' ELSE 'Birch' END),
     'admin' FROM generate_series(1, 200) n`,
  `INSERT INTO subject (key, kind, assembly, serial, status, head_hash, state, clock_warns_at)
   SELECT 'A-' || n % 200 || '/U-' || n, 'unit', 'A-' || n % 200, 'U-' || n,
     CASE WHEN n % 50 = 0 THEN 'in-house' ELSE 'shipped' END, '0', '{}',
     CASE WHEN n % 500 = 0 THEN timestamptz '2026-05-31' END FROM generate_series(1, 10000) n`,
  `INSERT INTO subject (key, kind, assembly, serial, status, head_hash, state)
   SELECT 'devices/D-' || n, 'device', 'A-' || n % 200, 'U-' || n, 'mounted', '0', '{}' FROM generate_series(1, 20000) n`,
  `INSERT INTO ledger_entry (subject, seq, hash, type, source, event_id, bytes, recorded_at, happened_at)
   SELECT 'A-' || n % 200 || '/U-' || n, seq, 'h',
     CASE seq WHEN 4 THEN 'heatbook.unit.shipped.v1' WHEN 3 THEN 'heatbook.site.dressed.v1' ELSE 't' END, '/stations/S-1',
     'E-' || n || '-' || seq, '{}', at, at
   FROM generate_series(1, 10000) n, generate_series(1, 4) seq,
     LATERAL (SELECT timestamptz '2025-04-01' + n * interval '1 hour' AS at) times`,
  `INSERT INTO intake_event (source, event_id, type, subject, content_hash, payload)
   SELECT '/stations/S-1', 'E-' || n, 't', 'devices/D-' || n, 'h',
     '{"type": "heatbook.unit.shipped.v1", "time": "2026-05-01T00:00:00Z", "source": "/stations/S-1", "id": "E"}'
   FROM generate_series(1, 10000) n`,
  `INSERT INTO intake_pending (number, shard, subject)
   SELECT number, number % 16, CASE WHEN number % 5 = 0 THEN subject ELSE 'A-1/U-' || number END FROM intake_event`,
  `INSERT INTO hold (id, state, reason, subject, stream, unit_key, assembly, serial, device, station, assignee, due_at,
     containment, raised_at, raised_by, causes, evidence, remedy, touched, cause_gone)
   SELECT gen_random_uuid(), CASE WHEN n % 20 = 0 THEN 'open' ELSE 'withdrawn' END, 'site-reworks', '{}', 'devices/D-' || n,
     'A-' || n % 200 || '/U-' || n, 'A-' || n % 200, 'U-' || n, 'D-' || n, 'S-' || n % 100,
     CASE WHEN n % 200 = 0 THEN 'quinn' END, CASE WHEN n % 400 = 0 THEN timestamptz '2026-04-01' + n * interval '1 hour' END,
     CASE WHEN n % 10 = 0 THEN gen_random_uuid() END, timestamptz '2025-04-01' + n * interval '1 hour', NULL, '[]', '{}', '',
     false, false
   FROM generate_series(1, 10000) n`,
  `INSERT INTO clearance (id, subject, station, operator, granted_to, granted_at, expires_at, used, steps, spends, warnings,
     rules)
   SELECT gen_random_uuid(), 'A-' || n % 200 || '/U-' || n, 'S-1', 'ann', 'S-1', at, at + interval '1 hour', n % 100 <> 0,
     '[]', '[]', '[]', 1
   FROM generate_series(1, 10000) n, LATERAL (SELECT timestamptz '2025-04-01' + n * interval '1 hour' AS at) times`,
  `INSERT INTO notice (id, kind, level, subject, stream, item, due_at, raised_at, detail, remedy, settled_at)
   SELECT gen_random_uuid(), CASE WHEN n % 2 = 0 THEN 'moisture' ELSE 'calibration' END, 'due', '{}', 'devices/D-' || n, '',
     at, at, '', '', CASE WHEN n % 50 <> 0 THEN at END
   FROM generate_series(1, 10000) n, LATERAL (SELECT timestamptz '2025-04-01' + n * interval '1 hour' AS at) times`,
  `INSERT INTO access_record (at, kind, caller, roles, outcome)
   SELECT timestamptz '2025-04-01' + n * interval '1 hour', 'refused', 'C-' || n % 500, '{}', 'x'
   FROM generate_series(1, 10000) n`,
  `INSERT INTO access_key (key_id, key_hash, role, name, issued_at, revoked_at)
   SELECT n, 'h' || n, 'station', 'S-' || n % 500, now(), CASE WHEN n > 500 THEN now() END FROM generate_series(1, 5000) n`,
  `INSERT INTO request_answer (caller, key, body_hash, at)
   SELECT 'S-1', n, 'h', timestamptz '2026-04-01' + n * interval '1 minute' FROM generate_series(1, 5000) n`,
  `INSERT INTO password_attempt (name, failures, last_at)
   SELECT 'n' || n, 1, timestamptz '2026-05-31 23:00Z' FROM generate_series(1, 5000) n`,
  `INSERT INTO change_note (at, subjects, seqs)
   SELECT timestamptz '2026-04-01' + n * interval '1 minute', '{A-1/U-1}', '{1}' FROM generate_series(1, 5000) n`,
];
