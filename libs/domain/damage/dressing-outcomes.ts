import { orderTime } from '../events/event-order.js';
import { DefectCode, InspectionRecorded, SiteDressed } from '../events/station-event.js';
import { DamageRow } from './damage-rates.js';

/** A dressing, or an inspection, of a site, as its ledger tells it. */
export interface SiteWork {
  /** Stream key of the unit. */
  readonly subject: string;
  /** RFC 3339. */
  readonly time: string;
  readonly station: string;
  readonly work:
    | { readonly kind: 'dressed'; readonly data: Pick<SiteDressed, 'refdes' | 'method' | 'operator'> }
    | { readonly kind: 'inspected'; readonly data: Pick<InspectionRecorded, 'target' | 'defects'> };
}

/** What cannot be put right by levelling or cleaning again. */
export const DAMAGE: readonly DefectCode[] = ['lifted-pad', 'missing-pad', 'scratched-mask', 'thin-pad'];

interface Dressing {
  readonly row: Pick<DamageRow, 'operator' | 'method' | 'station'>;
  inspected: boolean;
  damaged: boolean;
}

/**
 * One row a dressing that was inspected: damaged where an inspection of the site between it and the next dressing found
 * damage. Damage is put down to the last dressing before it was found; a dressing that nobody inspected says nothing.
 */
export function dressingOutcomes(work: readonly SiteWork[]): DamageRow[] {
  const last = new Map<string, Dressing>();
  const all: Dressing[] = [];
  const inOrder = work
    .map((item) => ({ at: orderTime(item.time), item }))
    .sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  for (const { item } of inOrder) {
    if (item.work.kind === 'dressed') {
      const { refdes, method, operator } = item.work.data;
      const dressing = { row: { operator, method, station: item.station }, inspected: false, damaged: false };
      last.set(`${item.subject}#${refdes}`, dressing);
      all.push(dressing);
      continue;
    }
    const { target, defects = [] } = item.work.data;
    const dressing = target.kind === 'site' ? last.get(`${item.subject}#${String(target.refdes)}`) : undefined;
    if (dressing === undefined) continue;
    dressing.inspected = true;
    dressing.damaged ||= defects.some(({ code }) => DAMAGE.includes(code));
  }
  return all
    .filter(({ inspected }) => inspected)
    .map(({ row, damaged }) => ({ ...row, sites: 1, damaged: damaged ? 1 : 0 }));
}
