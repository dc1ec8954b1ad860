import { compareOrder, EventOrder } from '../../domain/events/event-order.js';
import { deviceKey, StreamKey } from '../../domain/subject/subject.js';
import { Effect } from '../../domain/book/effect.js';
import { readLedgers } from '../fold/rejudged.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { SealedEntry } from '../ports/seal.js';
import { DeviceFact } from './device-stays.js';
import { isFact, devicesSaid } from './marks-of.js';
import { microTime } from './suspect-cause.js';
import { TouchingEntry } from './touched.js';

/** Ledgers read at once: some ten thousand entries. */
const CHUNK = 500;

/** A fact of a unit or device, as it is judged now. */
export interface ToldFact extends DeviceFact<TouchingEntry> {
  readonly order: EventOrder;
  readonly subject: StreamKey;
  readonly data: object;
  /** Devices that it is about, that it names, or that anything is judged of. */
  readonly devices: readonly string[];
}

/** Facts of these ledgers in the order in which they happened, annulled ones left out. */
export async function readFacts(search: LedgerSearch, keys: readonly StreamKey[]): Promise<readonly ToldFact[]> {
  const told: ToldFact[] = [];
  for (let start = 0; start < keys.length; start += CHUNK) {
    const entries = await search.entriesOf(keys.slice(start, start + CHUNK));
    const places = new Map(entries.flatMap((entry) => (isFact(entry) ? [[placeKey(entry), entry.seq] as const] : [])));
    for (const { event, current, struck } of readLedgers(entries).facts) {
      if (struck) continue;
      const { source, id } = event.order;
      const seq = places.get(placeKey({ subject: event.subject, type: event.type, event: { source, id } }));
      if (seq === undefined) throw new Error(`the entry of event ${id} of ${source} was not read`);
      const at = microTime(event.time);
      const entry: TouchingEntry = { ledger: event.subject, seq, type: event.type, at, event: { source, id } };
      const devices = devicesOf(event.subject, event.data, current);
      const effects = current.filter(tellsPlaces);
      told.push({ at, order: event.order, effects, entry, subject: event.subject, data: event.data, devices });
    }
  }
  return told.sort((a, b) => compareOrder(a.order, b.order));
}

function placeKey({ subject, type, event }: Pick<SealedEntry, 'subject' | 'type' | 'event'>): string {
  return `${subject} ${type} ${String(event?.source)} ${String(event?.id)}`;
}

const PLACE_KINDS: ReadonlySet<Effect['kind']> = new Set([
  'device-opened',
  'device-described',
  'device-named',
  'device-status',
  'mounted',
  'unmounted',
]);

function tellsPlaces({ kind }: Effect): boolean {
  return PLACE_KINDS.has(kind);
}

function devicesOf(subject: StreamKey, data: object, effects: readonly Effect[]): readonly string[] {
  const own = subject.startsWith(deviceKey('')) ? [subject.slice(deviceKey('').length)] : [];
  const judged = effects.flatMap((effect) => {
    if ('subject' in effect) return effect.subject.kind === 'device' ? [effect.subject.device] : [];
    if (effect.kind === 'hold-called') {
      return effect.cause.subject.kind === 'device' ? [effect.cause.subject.device] : [];
    }
    return 'device' in effect && effect.kind !== 'device-opened' ? [effect.device] : [];
  });
  return [...new Set([...own, ...devicesSaid(data), ...judged])];
}
