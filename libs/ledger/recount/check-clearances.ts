import { EventRef } from '../../domain/events/event-order.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { Sum } from './add-up.js';
import { inShort } from './difference.js';
import { RecountWork } from './recount-work.js';
import { Story } from './story.js';
import { toldActs, ToldAct } from './told-acts.js';

/** Compares the clearances for the subjects of a story with what its entries say: what they reserve, and what was used. */
export function checkClearances(work: RecountWork, story: Story, sum: Sum): void {
  const acts = toldActs(story.entries, 'clearance');
  const uses = usesOf(sum);
  work.counts.clearances += story.clearances.length;
  for (const clearance of story.clearances) {
    compare(work, clearance, acts.get(clearance.id) ?? [], uses.get(clearance.id) ?? NO_USES);
    acts.delete(clearance.id);
  }
  for (const [id, [act]] of acts) {
    if (act === undefined) continue;
    const recomputed = `${act.effect.kind}, told by entry ${act.seq}`;
    work.tell({ subject: act.ledger, what: `clearance ${id}`, kept: 'none', recomputed });
  }
}

const NO_USES: ReadonlyMap<number, EventRef> = new Map();

/** By clearance and step: the last event that used it. */
function usesOf({ facts }: Sum): Map<string, Map<number, EventRef>> {
  const uses = new Map<string, Map<number, EventRef>>();
  for (const { current } of facts) {
    for (const effect of current) {
      if (effect.kind !== 'clearance-used') continue;
      const known = uses.get(effect.clearance) ?? new Map<number, EventRef>();
      uses.set(effect.clearance, known.set(effect.step, effect.event));
    }
  }
  return uses;
}

function compare(
  { tell, seal }: RecountWork,
  clearance: ClearanceRecord,
  acts: readonly ToldAct[],
  uses: ReadonlyMap<number, EventRef>,
): void {
  const differ = (what: string, kept: unknown, recomputed: unknown): void => {
    if (seal.canonical({ v: kept }) === seal.canonical({ v: recomputed })) return;
    const { subject, id } = clearance;
    tell({ subject, what: `clearance ${id}, ${what}`, kept: inShort(kept), recomputed: inShort(recomputed) });
  };
  const granted = acts.flatMap(({ effect, time }) => (effect.kind === 'clearance-granted' ? [{ effect, time }] : []));
  const reserved = clearance.steps.flatMap(({ reserves }) => reserves);
  differ(
    'what it reserves',
    [reserved],
    granted.map(({ effect }) => effect.reserves),
  );
  differ(
    'when it was granted',
    [clearance.grantedAt],
    granted.map(({ time }) => time),
  );
  const returned = acts.filter(({ effect }) => effect.kind === 'clearance-returned').map(({ time }) => time);
  differ('when it was given back', [clearance.returnedAt ?? []].flat(), returned);
  differ(
    'whether it lapsed',
    clearance.lapsedAt !== null,
    acts.some(({ effect }) => effect.kind === 'clearance-lapsed'),
  );
  for (const [step, { use }] of clearance.steps.entries()) {
    differ(`use of step ${step}`, bare(use), bare(uses.get(step) ?? null));
  }
}

function bare(event: EventRef | null): EventRef | null {
  return event === null ? null : { source: event.source, id: event.id };
}
