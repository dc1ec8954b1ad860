import { Type } from 'class-transformer';
import { StreamKey } from '../../../libs/domain/subject/subject.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { CountField, OneOfField, TextField } from '../http/fields.js';
import { ListBody, listBody, PageQuery } from '../http/paging.js';

/** One less than the highest that a store counts to, so that there is one to be after. */
const MAX_SEQ = 2_147_483_646;

export class LedgerQuery extends PageQuery {
  @OneOfField(['asc', 'desc'], { optional: true, description: 'By seq; newest first unless told.' })
  readonly order?: 'asc' | 'desc';

  @TextField({ optional: true, max: 100, description: 'Only entries of this type.' })
  readonly type?: string;

  @Type(() => Number)
  @CountField({
    min: 1,
    max: MAX_SEQ,
    optional: true,
    description:
      'Begins at the entry with this seq, or the next one in the order asked for. Keep it when sending cursor.',
  })
  readonly from?: number;
}

/**
 * A page of one ledger. Its cursor is the last entry that was shown, with the list that it was shown in; a cursor of a list
 * with another order, type or beginning is refused.
 */
export function ledgerPage(
  reads: Pick<ReadStore, 'ledger'>,
  key: StreamKey,
  query: LedgerQuery,
): Promise<ListBody<SealedEntry>> {
  const { order = 'desc', type, from } = query;
  const list = `${key} ${order} ${type ?? ''} ${String(from ?? '')}`;
  const beforeFrom = from === undefined ? null : from + (order === 'asc' ? -1 : 1);
  return listBody(
    query,
    async ({ limit, cursor }) => {
      const afterSeq = cursor === null ? beforeFrom : readSeq(cursor, list);
      // One more than asked for tells whether there is a next page.
      const found = await reads.ledger(key, { limit: limit + 1, order, afterSeq, ...(type !== undefined && { type }) });
      const items = found.slice(0, limit);
      return { items, next: found.length > limit ? `${String(items.at(-1)?.seq)} ${list}` : null };
    },
    (entry) => entry,
  );
}

function readSeq(cursor: string, list: string): number {
  const [, seq, given] = /^(\d{1,15}) (.*)$/.exec(cursor) ?? [];
  if (seq !== undefined && given === list) return Number(seq);
  throw new RangeError('The cursor is not one that this list gave.');
}
