import { Rules } from '../../domain/setup/setup-data.js';
import { RecheckMark, placeOfRecheck } from '../../domain/limits/recheck-mark.js';
import { recheckSubject } from '../../domain/limits/recheck.js';
import { gravityOf } from '../../domain/limits/standing-change.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { worldFromRecords } from '../fold/make-world.js';
import { HoldRecord } from '../holds/hold-record.js';
import { addCauses, Stamp } from '../holds/reconcile-holds.js';
import { ledgerOf } from '../fold/rebuild-group.js';
import { BookChanges, SubjectRecord } from '../ports/book-store.js';
import { Seal } from '../ports/seal.js';
import { LimitRevision } from './effective-at.js';
import { LimitRecheck } from './limit-recheck.js';
import { liftedEffect, liftHolds } from './lift-holds.js';
import { appendRecheck, RecheckedSubject } from './recheck-entry.js';

export interface PageInput {
  readonly revision: LimitRevision;
  /** Normalised. */
  readonly effectiveAt: string;
  readonly version: number;
  readonly rules: Rules;
  /** Locked, with the units of all devices among them that are on one. Their states change. */
  readonly records: readonly SubjectRecord[];
  /** Keys of the units, or of the devices, that are to be judged anew. */
  readonly keys: readonly StreamKey[];
  /** All holds on the subjects of `records`. */
  readonly holds: readonly HoldRecord[];
}

export interface PageOutcome {
  readonly changes: BookChanges;
  readonly counts: Pick<LimitRecheck, 'subjects' | 'holdsRaised' | 'holdsWithdrawn' | 'holdsMarked' | 'warnings'>;
}

/** Judges subjects anew for a revision of a limit. One that bears its mark already is left as it is. */
export function recheckPage(input: PageInput, seal: Seal, stamp: Stamp): PageOutcome {
  const chain = new ChainWriter(seal, stamp.now);
  for (const record of input.records) chain.know(record);
  const done = recheckAll(input);
  const lifted = done.flatMap(({ mark, rechecked }) =>
    rechecked.changes
      .filter(({ before, after }) => gravityOf(before) === 'hold' && gravityOf(after) !== 'hold')
      .map(({ subject }) => ({ reason: mark.kind, subject })),
  );
  const causes = done.flatMap(({ rechecked }) =>
    rechecked.effects.flatMap((effect) => (effect.kind === 'hold-called' ? [effect.cause] : [])),
  );
  const gone = liftHolds(input.holds, lifted);
  const added = addCauses(input.holds, causes, stamp);
  writeEntries(chain, done, gone);
  const touched = new Set([...done.map(({ key }) => key), ...chain.entries.map(({ entry }) => entry.subject)]);
  const subjects = input.records
    .filter(({ key }) => touched.has(key))
    .map(({ key, state }) => ({ key, state, headSeq: chain.head(key).seq, headHash: chain.head(key).hash }));
  return {
    changes: {
      ...{ subjects, entries: chain.entries, holds: [...added.raised, ...added.changed, ...gone] },
      ...{ done: [], parked: [], postponed: [] },
    },
    counts: {
      subjects: done.length,
      holdsRaised: added.raised.length,
      holdsWithdrawn: gone.filter(({ state }) => state === 'withdrawn').length,
      holdsMarked: gone.filter(({ causeGone }) => causeGone).length,
      warnings: done.flatMap(({ rechecked }) => rechecked.effects).filter(({ kind }) => kind === 'warned').length,
    },
  };
}

function recheckAll({ revision, effectiveAt, version, rules, records, keys, holds }: PageInput): RecheckedSubject[] {
  const world = worldFromRecords(records, holds, new Map(), new Map());
  const wanted = new Set(keys);
  const { name: limit, revision: number, by, body } = revision;
  return records.flatMap(({ key, state }): RecheckedSubject[] => {
    if (state === null || state.kind === 'station' || !wanted.has(key)) return [];
    const { last, rechecks = [] } = state.state;
    if (rechecks.some((mark) => mark.limit === limit && mark.revision === number)) return [];
    const at = placeOfRecheck(effectiveAt, last);
    const mark: RecheckMark = { limit, kind: body.kind, revision: number, version, effectiveAt, at, by };
    const rechecked = recheckSubject(world, rules, mark, key);
    return rechecked === undefined ? [] : [{ key, mark, rechecked }];
  });
}

/** An entry in each ledger for which something changed. */
function writeEntries(chain: ChainWriter, done: readonly RecheckedSubject[], gone: readonly HoldRecord[]): void {
  const byLedger = new Map<StreamKey, [RecheckedSubject, ...RecheckedSubject[]]>();
  for (const one of done) {
    if (one.rechecked.changes.length === 0) continue;
    const known = byLedger.get(one.rechecked.ledger);
    if (known === undefined) byLedger.set(one.rechecked.ledger, [one]);
    else known.push(one);
  }
  for (const [ledger, subjects] of byLedger) {
    appendRecheck(chain, ledger, subjects, gone.filter((hold) => ledgerOf(hold) === ledger).map(liftedEffect));
  }
}
