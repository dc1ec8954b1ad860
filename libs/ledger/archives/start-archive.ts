import { compareText } from '../../domain/events/event-order.js';
import { ArchiveBounds, ArchiveStore } from '../ports/archive-store.js';
import { Clock } from '../ports/clock.js';
import { ReadStore } from '../ports/read-store.js';
import { MOST_BYTES_IN_ALL, MOST_KEPT, MOST_UNFINISHED, MOST_UNITS } from './archive-bounds.js';
import { unitPaths } from './archive-paths.js';
import { ArchiveOwner, ArchiveRecord, ArchiveUnitName } from './archive-record.js';

const PAGE = 500;
const BOUNDS: ArchiveBounds = { unfinished: MOST_UNFINISHED, kept: MOST_KEPT, bytes: MOST_BYTES_IN_ALL };

export interface ArchiveWish {
  readonly owner: ArchiveOwner;
  /** By name, or every unit of an assembly that the owner may see. */
  readonly units: readonly ArchiveUnitName[] | { readonly assembly: string };
  readonly formats: readonly string[];
  /** Sizes of checkpoints that the reader kept. */
  readonly since: readonly number[];
}

interface StartDeps {
  readonly archives: Pick<ArchiveStore, 'add'>;
  /** Those of the owner. */
  readonly reads: Pick<ReadStore, 'units'>;
  readonly clock: Clock;
  readonly newId: () => string;
}

/** `no-units`: of that assembly there are none to be seen. `too-many-units`: more than an archive takes. */
export type ArchiveRefusal = 'no-units' | 'too-many-units' | keyof ArchiveBounds;

/**
 * Puts the wish for an archive on record; whoever makes archives carries it out. Units named twice are taken once; whether
 * there are such units is not looked at, so that the answer tells nobody which serials there are.
 */
export async function startArchive(deps: StartDeps, wish: ArchiveWish): Promise<ArchiveRecord | ArchiveRefusal> {
  const named = 'assembly' in wish.units ? await unitsOf(deps.reads, wish.units.assembly) : wish.units;
  if (named === 'too-many-units') return named;
  const units = inOrder(named);
  if (units.length === 0) return 'no-units';
  if (units.length > MOST_UNITS) return 'too-many-units';
  const at = deps.clock.now();
  const record: ArchiveRecord = {
    id: deps.newId(),
    owner: wish.owner,
    formats: [...new Set(['json', ...wish.formats])].sort(),
    since: [...new Set(wish.since)].sort((a, b) => a - b),
    state: 'waiting',
    wanted: units.length,
    ...{ done: 0, missing: 0, entries: 0, parts: 0, contentBytes: 0, bytes: 0, attempts: 0 },
    ...{ manifestHash: null, failure: null, requestedAt: at, seenAt: at, finishedAt: null, expiresAt: null },
  };
  const paths = unitPaths(units);
  const kept = units.map((unit, n) => ({ ...unit, path: paths[n] ?? '' }));
  const added = await deps.archives.add(record, kept, BOUNDS);
  return added === 'added' ? record : added;
}

async function unitsOf(
  reads: Pick<ReadStore, 'units'>,
  assembly: string,
): Promise<readonly ArchiveUnitName[] | 'too-many-units'> {
  const units: ArchiveUnitName[] = [];
  for (let cursor: string | null = null; ;) {
    const page = await reads.units({ assembly }, { limit: PAGE, cursor });
    units.push(...page.items.map(({ assembly: of, serial }) => ({ assembly: of, serial })));
    if (units.length > MOST_UNITS) return 'too-many-units';
    cursor = page.next;
    if (cursor === null) return units;
  }
}

/** By assembly and serial, each once. */
function inOrder(units: readonly ArchiveUnitName[]): readonly ArchiveUnitName[] {
  const byName = new Map(units.map(({ assembly, serial }) => [`${assembly}/${serial}`, { assembly, serial }]));
  return [...byName.values()].sort((a, b) => compareText(a.assembly, b.assembly) || compareText(a.serial, b.serial));
}
