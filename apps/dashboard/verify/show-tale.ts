import type { AuditTale } from '../../../libs/evidence/verify/verification-report.js';
import { amount, part, partWith } from './page-part.js';

/** What the file tells, in short, folded away: it is the file's own word. */
export function taleParts({
  exportedAt,
  heads,
  checkpoint,
  types,
  struck,
  rejudged,
  concessions,
  signatures,
  holds,
}: AuditTale): HTMLElement[] {
  const rows: [string, string[]][] = [
    ['Made', [`${exportedAt ?? 'at an unknown time'}; what was entered later is in a later export`]],
    [
      'Ledgers',
      listed(
        heads,
        ({ ledger, count, headHash }) => `${ledger}: ${amount(count, 'entry', 'entries')}, head hash ${headHash}`,
      ),
    ],
    [
      'Checkpoint of the log',
      checkpoint === null ? [] : [`${amount(checkpoint.size, 'entry', 'entries')}, root ${checkpoint.root}`],
    ],
    ['Entries', types.map(({ type, count }) => `${count} ${type}`)],
    ['Holds', holds?.map(({ state, count }) => `${count} ${state}`) ?? []],
    ['Concessions', concessionsOf(concessions)],
    ['Judged otherwise later', rejudged === 0 ? [] : [amount(rejudged, 'entry', 'entries')]],
    [
      'Struck',
      listed(struck, ({ ledger, seq, event, by }) => `${event}, by entry ${seq} of ${ledger}, signed by ${by}`),
    ],
    [
      'Signed',
      listed(signatures, ({ ledger, seq, by, meaning, at }) => `${by}, ${at}: ${meaning} (entry ${seq} of ${ledger})`),
    ],
  ];
  const told = rows.filter(([, values]) => values.length > 0);
  const list = partWith(
    'dl',
    '',
    told.flatMap(([name, values]) => [part('dt', name), ...values.map((value) => part('dd', value))]),
  );
  return [partWith('details', 'tale', [part('summary', 'What the file tells'), list])];
}

function concessionsOf({ signed, withdrawn }: AuditTale['concessions']): string[] {
  return signed + withdrawn === 0 ? [] : [`${signed} signed, ${withdrawn} withdrawn`];
}

function listed<T>(
  { count, first }: { readonly count: number; readonly first: readonly T[] },
  say: (one: T) => string,
) {
  return count === first.length ? first.map(say) : [...first.map(say), `and ${count - first.length} more`];
}
