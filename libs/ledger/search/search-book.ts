import { profileRef, SetupKind } from '../../domain/setup/setup-data.js';
import { unitKey } from '../../domain/subject/subject.js';
import { ReadStore } from '../ports/read-store.js';
import { StoredRevision } from '../ports/setup-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { FOUND_KINDS, FoundItem, Match } from './found-item.js';
import { NameWish, readNameWish } from './name-wish.js';

export interface SearchDeps {
  /** Those of the caller: what these do not show is not found. */
  readonly reads: Pick<ReadStore, 'unitsNamed' | 'devicesNamed' | 'assembliesNamed' | 'holdById'>;
  /** The setup, for the house; null for a customer, who learns nothing of stations, people and profiles. */
  readonly setup: SetupBook | null;
}

export interface Found {
  readonly items: readonly FoundItem[];
  /** There is more than was asked for. */
  readonly truncated: boolean;
}

/**
 * What is named as a text says, or begins so: first what is named exactly so, then the others, each in order of kind. Names
 * are compared as they are written, and only where nothing is found once more in capitals, as scanners and labels have them.
 * @param text trimmed, not blank
 * @param limit 1 to 20 items
 */
export async function searchBook(deps: SearchDeps, text: string, limit: number): Promise<Found> {
  const found = await findNamed(deps, text, limit);
  const capitals = text.toUpperCase();
  return found.items.length > 0 || capitals === text ? found : findNamed(deps, capitals, limit);
}

async function findNamed(deps: SearchDeps, text: string, limit: number): Promise<Found> {
  const wish = readNameWish(text);
  if (wish === undefined) return { items: [], truncated: false };
  // One more than is shown tells that there is more.
  const lists = await matchesByKind(deps, wish, limit + 1);
  const exact = lists.map((list) => list.filter(({ isExact }) => isExact));
  const others = lists.map((list) => list.filter(({ isExact }) => !isExact));
  const first = inTurns(exact, limit);
  const matches = [...first, ...inTurns(others, limit - first.length)];
  return { items: matches.map(({ item }) => item), truncated: lists.flat().length > matches.length };
}

/** In order of `FOUND_KINDS`. */
function matchesByKind(deps: SearchDeps, wish: NameWish, limit: number): Promise<Match[][]> {
  return Promise.all(FOUND_KINDS.map((kind) => matchesOf(kind, deps, wish, limit)));
}

async function matchesOf(
  kind: FoundItem['kind'],
  { reads, setup }: SearchDeps,
  { name, assembly, only }: NameWish,
  limit: number,
): Promise<Match[]> {
  if (only !== undefined && only !== kind) return [];
  if (kind === 'unit') {
    const units = await reads.unitsNamed({ serial: name, ...(assembly !== undefined && { assembly }) }, limit);
    return units.map((unit) => ({
      item: { kind, name: unitKey(unit.assembly, unit.serial), ...unit },
      isExact: unit.serial === name,
    }));
  }
  // Nothing else has a name of two parts.
  if (assembly !== undefined) return [];
  switch (kind) {
    case 'device':
      return (await reads.devicesNamed(name, limit)).map(({ device, state, unit }) => ({
        item: { kind, name: device, device, state, ...unit },
        isExact: device === name,
      }));
    case 'assembly':
      return (await reads.assembliesNamed(name, limit)).map((found) => ({
        item: { kind, name: found.assembly, ...found, ...described(setup, 'assembly', found.assembly) },
        isExact: found.assembly === name,
      }));
    case 'hold':
      return holdOfId(reads, name);
    default:
      return setup === null ? [] : setupMatches(setup, kind, name, limit);
  }
}

async function holdOfId(reads: SearchDeps['reads'], id: string): Promise<Match[]> {
  const hold = await reads.holdById(id.toLowerCase());
  if (hold === undefined) return [];
  const { state, reason, subject, unit, customer } = hold;
  const device = subject.kind === 'device' ? { device: subject.device } : {};
  const whose = customer === null ? {} : { customer };
  return [
    { item: { kind: 'hold', name: hold.id, state, detail: reason, ...whose, ...unit, ...device }, isExact: true },
  ];
}

function setupMatches(setup: SetupBook, kind: SetupKind & FoundItem['kind'], name: string, limit: number): Match[] {
  // Of a profile the newest of its revisions in order of name stands for all of them.
  const newest = new Map(
    setup.all(kind).map((one) => [kind === 'profile' ? profileRef(one.name).name : one.name, one]),
  );
  return [...newest]
    .filter(([own]) => own.startsWith(name))
    .slice(0, limit)
    .map(([own, revision]) => ({ item: { kind, name: own, ...detailOf(revision) }, isExact: own === name }));
}

function described(setup: SetupBook | null, kind: SetupKind, name: string): { readonly detail?: string } {
  const revision = setup?.newest(kind, name);
  return revision === undefined ? {} : detailOf(revision);
}

function detailOf(revision: StoredRevision): { readonly detail?: string } {
  switch (revision.kind) {
    case 'assembly':
      return { detail: revision.body.description };
    case 'station':
      return { detail: revision.body.kind };
    case 'profile':
      return { detail: revision.body.purpose };
    default:
      return {};
  }
}

/** At most `limit` of all, one of each list in turn, so that none takes the place of the others; in order of the lists. */
function inTurns(lists: readonly (readonly Match[])[], limit: number): Match[] {
  const taken = lists.map(() => 0);
  let left = limit;
  for (let round = 0; round < limit; round += 1) {
    for (const [index, list] of lists.entries()) {
      if (left === 0 || list.length <= round) continue;
      taken[index] = round + 1;
      left -= 1;
    }
  }
  return lists.flatMap((list, index) => list.slice(0, taken[index]));
}
