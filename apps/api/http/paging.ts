import { Type } from 'class-transformer';
import { IsString, Matches, MaxLength } from 'class-validator';
import { Page, PageRequest } from '../../../libs/ledger/ports/read-store.js';
import { CountField, Field } from './fields.js';
import { ProblemError } from './problem.js';

const DEFAULT_LIMIT = 50;
const MAX_LIMIT = 500;

/** `?limit=&cursor=` of every list. */
export class PageQuery {
  @Type(() => Number)
  @CountField({ min: 1, max: MAX_LIMIT, optional: true, description: `Items on a page, ${DEFAULT_LIMIT} unless told.` })
  readonly limit?: number;

  @Field(
    { optional: true },
    { type: String, maxLength: 1_000, description: 'nextCursor of the page before.' },
    IsString(),
    MaxLength(1_000),
    Matches(/^[A-Za-z0-9_-]+$/, { message: 'must be the nextCursor of the page before' }),
  )
  readonly cursor?: string;
}

/** A page as lists answer it. `nextCursor` is null on the last one. */
export interface ListBody<T> {
  readonly items: readonly T[];
  readonly nextCursor: string | null;
}

/** Reads the page that a query asks for. Cursors travel in base64url, so that they need no care in an address. */
export async function listBody<T, U>(
  { limit = DEFAULT_LIMIT, cursor }: PageQuery,
  read: (page: PageRequest) => Page<T> | Promise<Page<T>>,
  shape: (item: T) => U,
): Promise<ListBody<U>> {
  const from = cursor === undefined ? null : Buffer.from(cursor, 'base64url').toString('utf8');
  try {
    const { items, next } = await read({ limit, cursor: from });
    return { items: items.map(shape), nextCursor: next === null ? null : Buffer.from(next).toString('base64url') };
  } catch (error) {
    // Stores refuse a cursor that they did not give so.
    if (!(error instanceof RangeError) || cursor === undefined) throw error;
    throw new ProblemError('invalid-query', 'Leave cursor out, or send nextCursor of the page before.', {
      errors: [{ pointer: '/cursor', detail: 'is no cursor of this list' }],
    });
  }
}

/** A page of a list that is at hand as a whole, in order of `keyOf`, which tells its items apart. */
export function pageOfAll<T>(all: readonly T[], keyOf: (item: T) => string, { limit, cursor }: PageRequest): Page<T> {
  const start = cursor === null ? 0 : all.findIndex((item) => keyOf(item) === cursor) + 1;
  if (cursor !== null && start === 0) throw new RangeError('The cursor is not one that this list gave.');
  const items = all.slice(start, start + limit);
  const last = items.at(-1);
  return { items, next: last !== undefined && start + limit < all.length ? keyOf(last) : null };
}
