import { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { BookClient } from '../../support/process-client.js';
import { chainFaults, refOf } from '../../support/process-evidence.js';
import { SHOP } from '../../support/small-shop.js';
import { Acknowledged, ledgersOf } from './station-crowd.js';

/** What the ledgers say, read back over the API, against the stations' own lists. */
export interface ReadBack {
  /** Events that were acknowledged. */
  acknowledged: number;
  /** Of them: in no ledger of their subject. */
  lost: number;
  /** In a ledger more than once. */
  doubled: number;
  /** What else is wrong, in words. */
  wrong: string[];
}

const AT_ONCE = 6;
const MOST_WORDS = 20;

/**
 * @param usual what every board comes to, but for its name: all are worked on alike
 */
export async function readBack(
  client: BookClient,
  lists: ReadonlyMap<string, readonly Acknowledged[]>,
  usual: string,
): Promise<ReadBack> {
  const found: ReadBack = { acknowledged: 0, lost: 0, doubled: 0, wrong: [] };
  const open = [...lists];
  const reader = async (): Promise<void> => {
    for (let next = open.pop(); next !== undefined; next = open.pop()) await readBoard(client, next, usual, found);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, reader));
  return found;
}

async function readBoard(
  client: BookClient,
  [serial, list]: readonly [string, readonly Acknowledged[]],
  usual: string,
  found: ReadBack,
): Promise<void> {
  const say = (words: string): void => {
    if (found.wrong.length < MOST_WORDS) found.wrong.push(words);
  };
  const times = new Map<string, number>();
  for (const key of ledgersOf(serial)) {
    const entries = await ledgerOf(client, key);
    chainFaults(key, entries).forEach(say);
    for (const { type, event } of entries) {
      if (event === null) continue;
      const told = `${key} ${type} ${refOf(event)}`;
      times.set(told, (times.get(told) ?? 0) + 1);
    }
  }
  found.acknowledged += list.length;
  for (const { ref, type, ledger } of list) {
    if (!times.has(`${ledger} ${type} ${ref}`)) {
      found.lost += 1;
      say(`${ref} is lost`);
    }
  }
  for (const [told, count] of times) {
    if (count === 1) continue;
    found.doubled += count - 1;
    say(`${told} stands ${String(count)} times`);
  }
  const outcome = await outcomeOf(client, serial).catch((error: unknown) => String(error));
  if (outcome !== usual) say(`${serial} came to ${outcome.slice(0, 400)}`);
}

/** @returns nothing where there is no such ledger */
async function ledgerOf(client: BookClient, key: string): Promise<SealedEntry[]> {
  const path = `/v1/${key.startsWith('devices/') ? key : `units/${key}`}/ledger?order=asc`;
  try {
    return (await client.list(path)) as SealedEntry[];
  } catch (error) {
    if (error instanceof Error && error.message.includes(': 404 ')) return [];
    throw error;
  }
}

/** What a board came to: tallies, sites, holds, warnings, without what names it or tells when it was written down. */
export async function outcomeOf(client: BookClient, serial: string): Promise<string> {
  const unit = (await client.get(`/v1/units/${SHOP.assembly}/${serial}`)) as Record<string, unknown>;
  const { state, sites, budgets, holds, warnings } = unit;
  return JSON.stringify({ state, sites, budgets, holds, warnings }).replaceAll(serial, '…');
}
