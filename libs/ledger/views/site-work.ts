import { SiteWork } from '../../domain/damage/dressing-outcomes.js';
import { SealedEntry } from '../ports/seal.js';

/** Dressings and inspections among entries; the book wrote their data from events that had been checked. */
export function siteWorkOf(entries: readonly SealedEntry[]): SiteWork[] {
  return entries.flatMap((entry): SiteWork[] => {
    const kind =
      entry.type === 'heatbook.site.dressed.v1'
        ? 'dressed'
        : entry.type === 'heatbook.inspection.recorded.v1'
          ? 'inspected'
          : undefined;
    if (kind === undefined || entry.event === null) return [];
    const station = entry.event.source.slice('/stations/'.length);
    const work = { kind, data: entry.data } as SiteWork['work'];
    return [{ subject: entry.subject, time: entry.time, station, work }];
  });
}
