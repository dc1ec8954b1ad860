import { openAudit } from '../../libs/ledger/audits/open-audit.js';
import { AuditAudience, AuditSource } from '../../libs/ledger/audits/audit-source.js';
import { readUnit } from '../../libs/ledger/views/read-unit.js';
import { BookHarness } from './book-harness.js';

/** Opens the history of a unit of a book without people and without a log. */
export async function openedAudit(
  { deps, reads }: BookHarness,
  unit: { readonly assembly: string; readonly serial: string },
  reader: AuditAudience['for'] = 'house',
): Promise<AuditSource> {
  const { setup, clock, traces } = deps;
  const reading = await readUnit({ reads, setup, clock }, unit);
  if (reading === undefined) throw new Error(`the book has no unit ${unit.assembly}/${unit.serial}`);
  const names = { opened: () => Promise.resolve([]) };
  return openAudit({ reads, traces, names, siteLog: null, setup, clock }, reading, { for: reader });
}
