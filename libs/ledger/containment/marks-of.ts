import { Effect } from '../../domain/book/effect.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { SealedEntry } from '../ports/seal.js';
import { microTime } from './suspect-cause.js';

/** What an entry is found by: when its fact happened, and one text for each thing that may come under suspicion. */
export interface EntryMarks {
  /** Normalised UTC to the microsecond; null where the entry is no fact of a station but the book's own. */
  readonly happenedAt: string | null;
  /** Without repeats. Of the book's own entries only those that a search at any time needs. */
  readonly marks: readonly string[];
}

/** A space is in no name, so that no mark of one kind is one of another. */
export const MARK = {
  station: (station: string) => `station ${station}`,
  operator: (operator: string) => `operator ${operator}`,
  profile: (name: string, revision: string) => `profile ${name}@${revision}`,
  solderAlloy: (alloy: string) => `alloy ${alloy}`,
  lot: (lot: string) => `lot ${lot}`,
  /** What an event in another ledger than the device's own says of it. */
  device: (device: string) => `device ${device}`,
  /** Says of a device that it is of this part. */
  part: (part: string) => `part ${part}`,
  /** Says of a device that it is of this lot. */
  deviceLot: (lot: string) => `device-lot ${lot}`,
} as const;

/** Members of the data of station events that marks are read from. Entries hold what passed the check of its type. */
interface SaidMembers {
  readonly operator?: string;
  readonly profile?: { readonly name: string; readonly revision: string };
  readonly solderAlloy?: string;
  readonly pasteAlloy?: string;
  readonly ballAlloy?: string;
  readonly lots?: Readonly<Record<string, string>>;
  readonly lot?: string;
  readonly part?: string;
  readonly device?: string;
  readonly target?: { readonly device?: string };
  readonly devices?: readonly { readonly device?: string }[];
}

const NOT_FACTS: ReadonlySet<string> = new Set([BOOK_ENTRY_TYPES.annulled, BOOK_ENTRY_TYPES.rejudged]);

/** Whether an entry tells of what a station said happened; in a device's ledger also the entry of its move. */
export function isFact(entry: Pick<SealedEntry, 'event' | 'type'>): boolean {
  return entry.event !== null && !NOT_FACTS.has(entry.type);
}

/** Marks of an entry, from itself alone. */
export function marksOf(entry: SealedEntry): EntryMarks {
  const marks = new Set<string>();
  if (entry.type === BOOK_ENTRY_TYPES.rejudged) {
    addParts(marks, rejudged(entry));
    return { happenedAt: null, marks: [...marks] };
  }
  if (entry.event === null || !isFact(entry)) return { happenedAt: null, marks: [] };
  const said = entry.data as SaidMembers;
  marks.add(MARK.station(entry.event.source.slice('/stations/'.length)));
  add(marks, operatorOf(entry), MARK.operator);
  if (said.profile !== undefined) marks.add(MARK.profile(said.profile.name, said.profile.revision));
  add(marks, said.solderAlloy, MARK.solderAlloy);
  add(marks, said.pasteAlloy, MARK.solderAlloy);
  add(marks, said.ballAlloy, MARK.solderAlloy);
  for (const lot of Object.values(said.lots ?? {})) marks.add(MARK.lot(lot));
  add(marks, said.lot, MARK.deviceLot);
  add(marks, said.part, MARK.part);
  for (const device of devicesSaid(said)) if (deviceKey(device) !== entry.subject) marks.add(MARK.device(device));
  addParts(marks, entry.effects as readonly Effect[]);
  return { happenedAt: microTime(entry.time), marks: [...marks] };
}

/** Devices that an event names in what it says, other than by its subject. */
export function devicesSaid({ device, target, devices }: SaidMembers): readonly string[] {
  return [device, target?.device, ...(devices ?? []).map((one) => one.device)].filter((name) => name !== undefined);
}

/** The entry of a device's move says who did it as the unit's entry does, though not what was said. */
function operatorOf(entry: SealedEntry): string | undefined {
  return (entry.actor as { readonly operator?: string }).operator;
}

function addParts(marks: Set<string>, effects: readonly Effect[]): void {
  for (const effect of effects) {
    if (effect.kind === 'device-opened') add(marks, effect.part, MARK.part);
    else if (effect.kind === 'device-described') {
      add(marks, effect.part, MARK.part);
      add(marks, effect.lot, MARK.deviceLot);
    }
  }
}

function rejudged(entry: SealedEntry): readonly Effect[] {
  return (entry.data as { changes: readonly { effects: readonly Effect[] }[] }).changes.flatMap(
    ({ effects }) => effects,
  );
}

function add(marks: Set<string>, name: string | null | undefined, mark: (name: string) => string): void {
  if (name !== undefined && name !== null) marks.add(mark(name));
}
