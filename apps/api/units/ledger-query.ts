import { StreamKey } from '../../../libs/domain/subject/subject.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { OneOfField, TextField } from '../http/fields.js';
import { ListBody, listBody, PageQuery } from '../http/paging.js';

export class LedgerQuery extends PageQuery {
  @OneOfField(['asc', 'desc'], { optional: true, description: 'By seq; newest first unless told.' })
  readonly order?: 'asc' | 'desc';

  @TextField({ optional: true, max: 100, description: 'Only entries of this type.' })
  readonly type?: string;
}

/** A page of one ledger. Its cursor is the last entry that was shown, with the list that it was shown in. */
export function ledgerPage(
  reads: Pick<ReadStore, 'ledger'>,
  key: StreamKey,
  query: LedgerQuery,
): Promise<ListBody<SealedEntry>> {
  const { order = 'desc', type } = query;
  const list = `${key} ${order} ${type ?? ''}`;
  return listBody(
    query,
    async ({ limit, cursor }) => {
      const afterSeq = cursor === null ? null : readSeq(cursor, list);
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
