import { EventRef, refKey } from '../../domain/events/event-order.js';
import { causeKey, holdKey } from '../../domain/holds/cause.js';
import { ledgerOf } from '../fold/rebuild-group.js';
import { HoldRecord } from '../holds/hold-record.js';
import { isOfTheFold } from '../holds/reconcile-holds.js';
import { Sum } from './add-up.js';
import { inShort } from './difference.js';
import { RecountWork } from './recount-work.js';
import { StandingCause, standingCauses } from './standing-causes.js';
import { Story } from './story.js';
import { toldActs, ToldAct } from './told-acts.js';

/** Compares the holds that are kept on the subjects of a story with what its entries say that became of them, and why. */
export async function checkHolds(
  work: RecountWork,
  story: Story,
  sum: Sum,
  holds: readonly HoldRecord[],
): Promise<void> {
  const acts = toldActs(story.entries, 'hold');
  const causes = standingCauses(sum);
  const covered = new Set(holds.filter(answers).flatMap(keysOfCauses));
  for (const [key, cause] of causes) {
    if (covered.has(key)) continue;
    const what = `hold "${holdKey(cause)}"`;
    work.tell({
      subject: subjectOf(cause),
      what,
      kept: 'none',
      recomputed: `called for by event ${cause.event.id} of ${cause.event.source}`,
    });
  }
  work.counts.holds += holds.length;
  for (const hold of holds) {
    compareActs(work, hold, acts.get(hold.id) ?? []);
    acts.delete(hold.id);
    if (isOfTheFold(hold)) compareCauses(work, hold, causes);
  }
  for (const [id, [act]] of acts) {
    if (act === undefined) continue;
    const what = `hold ${id}`;
    work.tell({ subject: act.ledger, what, kept: 'none', recomputed: `${act.effect.kind}, told by entry ${act.seq}` });
  }
  await compareParked(work, holds);
}

/** One that was ended because it had no cause does not answer for one that came up after all. */
function answers(hold: HoldRecord): boolean {
  return hold.state !== 'withdrawn' && hold.release?.withoutCause !== true;
}

function keysOfCauses(hold: HoldRecord): string[] {
  return hold.causes.map((event) => causeKey({ ...hold, event }));
}

function subjectOf({ reason, subject }: StandingCause): string {
  return holdKey({ reason, subject }).slice(reason.length + 1);
}

/** What people did, and what the book took back. */
function compareActs({ tell, seal }: RecountWork, hold: HoldRecord, acts: readonly ToldAct[]): void {
  const differ = (what: string, kept: unknown, recomputed: unknown): void => {
    if (seal.canonical({ v: kept }) === seal.canonical({ v: recomputed })) return;
    tell({
      subject: ledgerOf(hold),
      what: `hold ${hold.id}, ${what}`,
      kept: inShort(kept),
      recomputed: inShort(recomputed),
    });
  };
  const of = (kind: string): readonly ToldAct[] => acts.filter(({ effect }) => effect.kind === kind);
  for (const { effect } of acts) {
    if (!('hold' in effect)) continue;
    differ('reason and subject', [hold.reason, hold.subject], [effect.reason, effect.subject]);
  }
  if (hold.reason === 'by-hand')
    differ(
      'raised by',
      [hold.raisedBy],
      of('hold-raised').map(({ by }) => by ?? null),
    );
  const released = of('hold-released').map(({ by, time, note }) => ({ by, at: time, note }));
  const { release } = hold;
  differ('release', release === null ? [] : [{ by: release.by, at: release.at, note: release.note }], released);
  const disposed = of('hold-disposed').map(({ effect, note }) => [
    effect.kind === 'hold-disposed' ? effect.decision : '',
    note,
  ]);
  differ(
    'dispositions',
    hold.dispositions.map(({ decision, note }) => [decision, note]),
    disposed,
  );
  const told = of('hold-withdrawn').length > 0 ? 'withdrawn' : released.length > 0 ? 'released' : 'open';
  // A milder limit may take back a hold that no ledger of what became milder tells of; that its causes are gone is seen below.
  const mayBeSilent = hold.state === 'withdrawn' && told === 'open' && hold.reason !== 'by-hand';
  if (!mayBeSilent) differ('state', hold.state, told);
}

/** What events called for. */
function compareCauses(
  { tell, seal }: RecountWork,
  hold: HoldRecord,
  causes: ReadonlyMap<string, StandingCause>,
): void {
  if (!answers(hold)) return;
  const subject = ledgerOf(hold);
  const standing = hold.causes.filter((event) => causes.has(causeKey({ ...hold, event })));
  if (hold.causeGone) {
    const [still] = standing;
    if (still !== undefined) {
      tell({
        subject,
        what: `hold ${hold.id}, its cause`,
        kept: 'gone',
        recomputed: `event ${still.id} of ${still.source}`,
      });
    }
    return;
  }
  // One that a person had touched when its cause went keeps it, also where something else calls for it later.
  const mustStand = hold.touched && standing.length > 0 ? [] : hold.causes;
  for (const event of mustStand) {
    if (standing.includes(event)) continue;
    tell({
      subject,
      what: `hold ${hold.id}, its cause`,
      kept: `event ${event.id} of ${event.source}`,
      recomputed: 'none',
    });
  }
  compareEvidence(
    tell,
    seal,
    hold,
    standing.map((event) => causes.get(causeKey({ ...hold, event }))?.said ?? []),
  );
}

/** Whether what a hold says was said of one of its causes. Which of them it quotes depends on which came last. */
function compareEvidence(
  tell: RecountWork['tell'],
  seal: RecountWork['seal'],
  hold: HoldRecord,
  said: readonly StandingCause['said'][],
): void {
  // Where of one cause it cannot be known what was said, the hold may be quoting that.
  if (said.some((words) => words.length === 0)) return;
  const quoted = ({ evidence, remedy }: StandingCause['said'][number]): string => seal.canonical({ evidence, remedy });
  const words = said.flat();
  const [first] = words;
  if (first === undefined || words.some((one) => quoted(one) === quoted(hold))) return;
  const subject = ledgerOf(hold);
  tell({
    subject,
    what: `hold ${hold.id}, its evidence`,
    kept: inShort(quoted(hold)),
    recomputed: inShort(quoted(first)),
  });
}

/** Events for which a hold says that they could not be applied must still be waiting. */
async function compareParked({ reads, tell }: RecountWork, holds: readonly HoldRecord[]): Promise<void> {
  const parked = holds.filter((hold) => hold.reason === 'event-parked' && hold.state === 'open' && !hold.causeGone);
  if (parked.length === 0) return;
  const refs: readonly EventRef[] = parked.flatMap(({ causes }) => causes);
  const waiting = new Set((await reads.waiting(refs)).map(refKey));
  for (const hold of parked) {
    for (const event of hold.causes) {
      if (waiting.has(refKey(event))) continue;
      const kept = `event ${event.id} of ${event.source} is parked`;
      tell({ subject: ledgerOf(hold), what: `hold ${hold.id}, its cause`, kept, recomputed: 'it is not' });
    }
  }
}
