import { Effect } from '../../domain/book/effect.js';
import { compareOrder, compareText, EventOrder } from '../../domain/events/event-order.js';
import { RecheckMark, recheckOrder } from '../../domain/limits/recheck-mark.js';
import { deviceKey, StreamKey, Subject, unitKey } from '../../domain/subject/subject.js';
import { BookEffect } from '../fold/book-effect.js';
import { recheckData, ToldChange } from '../limits/recheck-entry.js';
import { Story } from './story.js';
import { RecountWork } from './recount-work.js';

/** That a subject was judged anew for a revision of a limit, with what the ledgers last said of it. */
export interface ToldRecheck {
  readonly key: StreamKey;
  readonly mark: RecheckMark;
  readonly order: EventOrder;
  readonly effects: readonly Effect[];
  readonly changes: readonly ToldChange[];
}

/**
 * Rechecks of the subjects of a story, in order. Their places stand in the states alone, since one that changed nothing
 * is told nowhere; one that is told must have its place.
 */
export function toldRechecks({ tell }: RecountWork, { records, entries }: Story): readonly ToldRecheck[] {
  const told = new Map<string, Pick<ToldRecheck, 'effects' | 'changes'> & { readonly key: StreamKey }>();
  for (const entry of entries) {
    const data = recheckData(entry);
    if (data === undefined) continue;
    const effects = (entry.effects as readonly BookEffect[]).filter(isJudged);
    for (const key of data.rechecked) {
      told.set(nameOf(data, key), {
        key,
        effects: effects.filter((effect) => recordOf(subjectOf(effect)) === key),
        changes: data.changes.filter(({ subject }) => recordOf(subject) === key),
      });
    }
  }
  const placed: ToldRecheck[] = [];
  for (const [key, { state }] of records) {
    if (state === null || state.kind === 'station') continue;
    for (const mark of state.state.rechecks ?? []) {
      const name = nameOf(mark, key);
      const { effects = [], changes = [] } = told.get(name) ?? {};
      told.delete(name);
      placed.push({ key, mark, order: recheckOrder(mark), effects, changes });
    }
  }
  for (const [name, { key }] of told) {
    const state = records.get(key)?.state;
    if (state == null) continue;
    tell({
      subject: key,
      what: `place of recheck ${name.split(' ')[0] ?? name}`,
      kept: 'none',
      recomputed: 'told by an entry',
    });
  }
  return placed.sort((a, b) => compareOrder(a.order, b.order) || compareText(a.key, b.key));
}

type Judged = Extract<Effect, { kind: 'warned' | 'hold-called' }>;

function isJudged(effect: BookEffect): effect is Judged {
  return effect.kind === 'warned' || effect.kind === 'hold-called';
}

function subjectOf(effect: Judged): Subject {
  return effect.kind === 'warned' ? effect.subject : effect.cause.subject;
}

function nameOf({ limit, revision }: { readonly limit: string; readonly revision: number }, key: StreamKey): string {
  return `${limit}@${String(revision)} ${key}`;
}

function recordOf(subject: Subject): StreamKey {
  return subject.kind === 'device' ? deviceKey(subject.device) : unitKey(subject.assembly, subject.serial);
}
