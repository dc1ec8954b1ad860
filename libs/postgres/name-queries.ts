import { deviceKey, unitKey } from '../domain/subject/subject.js';
import { NamedAssembly, NamedDevice, NamedUnit, SerialWish } from '../ledger/ports/name-reads.js';
import { Queries } from './queries.js';

/** No text goes on beyond it: a beginning followed by the last code point ends the range of what begins so. */
const LAST = '\u{10FFFF}';

/** A range, since LIKE would be looked up in no index under row-level security: it could tell of rows that are not shown. */
function rangeOf(beginning: string): [string, string] {
  return [beginning, beginning + LAST];
}

/** Of one assembly by key, or of all by serial: either is a range of an index. */
export async function unitsNamed(
  queries: Queries,
  { assembly, serial }: SerialWish,
  limit: number,
): Promise<readonly NamedUnit[]> {
  const [column, range] =
    assembly === undefined ? ['serial', rangeOf(serial)] : ['key', rangeOf(unitKey(assembly, serial))];
  const { rows } = await queries.query<NamedUnit>(
    `SELECT s.assembly, s.serial, s.status AS state, coalesce(a.customer, '') AS customer
     FROM (SELECT * FROM subject WHERE kind = 'unit' AND ${column} >= $1 AND ${column} < $2
       ORDER BY ${column === 'key' ? 'key' : 'serial, key'} LIMIT $3) s
     LEFT JOIN assembly_customer a ON a.assembly = s.assembly
     ORDER BY s.serial, s.key`,
    [...range, limit],
  );
  return rows;
}

export async function devicesNamed(
  queries: Queries,
  beginning: string,
  limit: number,
): Promise<readonly NamedDevice[]> {
  const { rows } = await queries.query<DeviceRow>(
    `SELECT key, status, assembly, serial FROM subject
     WHERE kind = 'device' AND status IS NOT NULL AND key >= $1 AND key < $2 ORDER BY key LIMIT $3`,
    [...rangeOf(deviceKey(beginning)), limit],
  );
  return rows.map(({ key, status, assembly, serial }) => ({
    device: key.slice(deviceKey('').length),
    state: status,
    unit: assembly === null || serial === null ? null : { assembly, serial },
  }));
}

export async function assembliesNamed(
  queries: Queries,
  beginning: string,
  limit: number,
): Promise<readonly NamedAssembly[]> {
  const { rows } = await queries.query<NamedAssembly>(
    `SELECT assembly, customer FROM assembly_customer WHERE assembly >= $1 AND assembly < $2 ORDER BY assembly LIMIT $3`,
    [...rangeOf(beginning), limit],
  );
  return rows;
}

interface DeviceRow {
  readonly key: string;
  readonly status: string;
  readonly assembly: string | null;
  readonly serial: string | null;
}
