import type { Entry } from './entry-parts.js';

/** An entry as the ledger has it, of a heat at a station unless told otherwise. */
export function anEntry(parts: Partial<Entry> = {}): Entry {
  return {
    ...{ subject: 'A-1/7', seq: 1, type: 'heatbook.site.heated.v1', rules: 1 },
    ...{ time: '2026-03-03T08:00:00Z', recordedAt: '2026-03-03T08:00:01Z' },
    ...{ event: { source: '/stations/HOTGAS-1', id: 'e1' }, actor: { kind: 'station', station: 'HOTGAS-1' } },
    ...{ data: {}, effects: [], prevHash: '0'.repeat(64), hash: '1'.repeat(64) },
    ...parts,
  };
}

/** The effect of one count of a limit. */
export function aCount(limit: string, subject: object, why: string, verdict?: object): object {
  const event = { source: '/stations/HOTGAS-1', id: 'e1' };
  const count = {
    event,
    at: '2026-03-03T08:00:00Z',
    basis: 'inferred',
    why,
    ...(verdict !== undefined && { verdict }),
  };
  return { kind: 'counted', limit, subject, count };
}
