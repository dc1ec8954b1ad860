import { useQuery } from '@tanstack/react-query';
import { ApiProblem } from '../api/api-problem.js';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { ANNULLED, eventKeyOf, type Entry } from '../units/entry-parts.js';
import type { ExplainedHold } from './hold-shape.js';

/** A ledger that tells of a hold's subject. */
export type LedgerSource =
  | { readonly kind: 'unit'; readonly assembly: string; readonly serial: string }
  | { readonly kind: 'device'; readonly device: string };

/** Entries shown before and after the cause. */
const AROUND = 3;
/** Annulments of one ledger that are looked through; more than any had. */
const MOST_STRUCK = 200;

/** The ledgers that tell of what is held, its own first. Who may see no devices reads of them in their board's. */
export function ledgersOf({ subject, unit }: ExplainedHold, seesDevices: boolean): readonly LedgerSource[] {
  return [
    ...(subject.kind === 'device' && seesDevices ? [{ kind: 'device', device: subject.device } as const] : []),
    ...(unit === null ? [] : [{ kind: 'unit', ...unit } as const]),
  ];
}

/** As entries name a ledger. */
export function streamOf(source: LedgerSource): string {
  return source.kind === 'unit' ? `${source.assembly}/${source.serial}` : `devices/${source.device}`;
}

/** What calls for a hold in one ledger: its events there, else where people raised it. Ascending. */
export function causeSeqs(hold: ExplainedHold, source: LedgerSource): readonly number[] {
  const stream = streamOf(source);
  const within = (entries: readonly Entry[]) => entries.filter(({ subject }) => subject === stream);
  const told = within(hold.causes.flatMap(({ entries }) => entries));
  const found = told.length > 0 ? told : within(hold.entries).slice(0, 1);
  return [...new Set(found.map(({ seq }) => seq))].sort((a, b) => a - b);
}

/** Entries around a place in a ledger, oldest first; the newest where there is no place. */
export function useEntriesAround(source: LedgerSource, seq: number | undefined) {
  const from = seq === undefined ? {} : { from: seq + AROUND };
  const query = { order: 'desc', limit: 2 * AROUND + 1, ...from } as const;
  return useQuery({
    queryKey: keys.ledger(streamOf(source), query),
    queryFn: () => readLedger(source, query).catch(noneYet),
    select: ({ items }) => [...items].reverse(),
  });
}

/** Which events of a ledger were struck, each with the entry that strikes it. */
export function useStruck(source: LedgerSource) {
  const query = { type: ANNULLED, limit: MOST_STRUCK } as const;
  return useQuery({
    queryKey: keys.ledger(streamOf(source), query),
    queryFn: () => readLedger(source, query).catch(noneYet),
    select: ({ items }) =>
      new Map(items.flatMap(({ event, seq }) => (event === null ? [] : [[eventKeyOf(event), seq] as const]))),
  });
}

function readLedger(source: LedgerSource, query: { order?: 'desc'; limit: number; from?: number; type?: string }) {
  if (source.kind === 'device') {
    const { device } = source;
    return dataOf(api.GET('/v1/devices/{device}/ledger', { params: { path: { device }, query } }));
  }
  const { assembly, serial } = source;
  return dataOf(api.GET('/v1/units/{assembly}/{serial}/ledger', { params: { path: { assembly, serial }, query } }));
}

/** What a parked event is about may have no ledger yet. */
function noneYet(error: unknown): { readonly items: readonly Entry[] } {
  if (error instanceof ApiProblem && error.status === 404) return { items: [] };
  throw error;
}
