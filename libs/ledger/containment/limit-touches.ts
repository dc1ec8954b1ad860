import { StationEventType } from '../../domain/events/station-event.js';
import { LimitKind, LimitRule } from '../../domain/limits/limit-rule.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Effect } from '../../domain/book/effect.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { SealedEntry } from '../ports/seal.js';
import { SetupBook } from '../setup/setup-book.js';
import { Interval, microTime } from './suspect-cause.js';
import { ContainmentTooWide } from './too-wide.js';
import { Touches } from './touched.js';

const CHUNK = 5_000;
const MOST_FACTS = 200_000;

const HEATS: readonly StationEventType[] = [
  'heatbook.unit.reflowed.v1',
  'heatbook.device.removed.v1',
  'heatbook.device.placed.v1',
  'heatbook.site.dressed.v1',
  'heatbook.site.heated.v1',
  'heatbook.device.deballed.v1',
  'heatbook.device.reballed.v1',
];
const RECEIPTS: readonly StationEventType[] = ['heatbook.unit.received.v1', 'heatbook.device.received.v1'];
const INSPECTION: readonly StationEventType[] = ['heatbook.inspection.recorded.v1'];

/** Types of events that a kind of limit is judged at; one that is not here may be judged at any. */
const JUDGED_AT: Partial<Record<LimitKind, readonly StationEventType[]>> = {
  'device-excursions': [...HEATS, ...RECEIPTS],
  'site-excursions': [...HEATS, ...RECEIPTS],
  'unit-reflows': ['heatbook.unit.reflowed.v1', 'heatbook.unit.received.v1'],
  'site-reworks': ['heatbook.device.removed.v1', 'heatbook.unit.received.v1'],
  'site-dressings': ['heatbook.site.dressed.v1'],
  'method-allowed': ['heatbook.site.dressed.v1', 'heatbook.device.deballed.v1'],
  'pad-copper-min': HEATS,
  'joint-lead-max': [...HEATS, ...INSPECTION],
  'flatness-max': INSPECTION,
  'void-fraction-max': INSPECTION,
  'body-peak-max': HEATS,
  'profile-window': HEATS,
  'floor-life': HEATS,
  'guard-band': HEATS,
};

/**
 * Facts that were judged while a limit of this name was in force and that lie in its scope as it was then. Which limit
 * governed in the end is not asked: a suspect limit may have been passed over wrongly as well as applied wrongly.
 * @throws ContainmentTooWide
 */
export async function limitTouches(
  search: LedgerSearch,
  setup: SetupBook,
  limit: string,
  interval: Interval,
): Promise<Touches> {
  const touches = new Touches();
  let after: { subject: StreamKey; seq: number } | null = null;
  for (let read = 0; ;) {
    const entries: readonly SealedEntry[] = await search.factsWithin(interval, { after, limit: CHUNK });
    for (const entry of entries) {
      const { subject, seq, type, event } = entry;
      if (event === null || !isJudgedBy(setup.at(entry.rules), limit, entry)) continue;
      touches.add(subject, { ledger: subject, seq, type, at: microTime(entry.time), event });
    }
    const last = entries.at(-1);
    if (last === undefined || entries.length < CHUNK) return touches;
    read += entries.length;
    if (read >= MOST_FACTS) throw new ContainmentTooWide('facts', MOST_FACTS);
    after = { subject: last.subject, seq: last.seq };
  }
}

function isJudgedBy(rules: Rules, name: string, entry: SealedEntry): boolean {
  const rule = rules.find('limit', name)?.body;
  if (rule === undefined || entry.type === BOOK_ENTRY_TYPES.deviceMoved) return false;
  const types = JUDGED_AT[rule.kind];
  if (types !== undefined && !types.some((type) => type === entry.type)) return false;
  return inScope(rules, rule, entry);
}

/** Whether anything that a fact is about, or that anything is judged of, lies in a limit's scope. */
function inScope(rules: Rules, { scope }: LimitRule, entry: SealedEntry): boolean {
  const stream = parseStream(entry.subject);
  if (stream?.kind === 'unit') {
    const design = rules.find('assembly', stream.assembly)?.body;
    if (scope.assembly !== undefined && scope.assembly !== stream.assembly) return false;
    if (scope.customer !== undefined && scope.customer !== design?.customer) return false;
    if (scope.refdes === undefined && scope.part === undefined) return true;
    const sites = sitesOf(entry);
    const of = (refdes: string): string | undefined => design?.sites.find((site) => site.refdes === refdes)?.part;
    const every = sites.length > 0 ? sites : (design?.sites.map(({ refdes }) => refdes) ?? []);
    return every.some(
      (refdes) =>
        (scope.refdes === undefined || scope.refdes === refdes) &&
        (scope.part === undefined || scope.part === of(refdes) || scope.part === partSaid(entry)),
    );
  }
  // A loose device is at no customer's, assembly's or site's place.
  if (stream?.kind === 'station') return false;
  if (scope.assembly !== undefined || scope.customer !== undefined || scope.refdes !== undefined) return false;
  return scope.part === undefined || scope.part === partSaid(entry);
}

/** Sites that a fact names or that anything is judged of; none where it is about the whole unit. */
function sitesOf(entry: SealedEntry): readonly string[] {
  const said = entry.data as {
    readonly refdes?: string;
    readonly target?: { readonly refdes?: string };
  };
  const judged = (entry.effects as readonly Effect[]).flatMap((effect) => {
    if ('subject' in effect) return effect.subject.kind === 'site' ? [effect.subject.refdes] : [];
    return effect.kind === 'hold-called' && effect.cause.subject.kind === 'site' ? [effect.cause.subject.refdes] : [];
  });
  return [said.refdes, said.target?.refdes, ...judged].filter((refdes) => refdes !== undefined);
}

function partSaid(entry: SealedEntry): string | undefined {
  const { part } = entry.data as { readonly part?: string };
  return part;
}
