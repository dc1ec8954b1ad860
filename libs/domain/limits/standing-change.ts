import { World } from '../book/state.js';
import { Rules } from '../setup/setup-data.js';
import { Subject } from '../subject/subject.js';
import { LimitKind } from './limit-rule.js';
import { Standing, standingOf } from './standing.js';

/** A subject that stands otherwise under one setup than under another. */
export interface StandingChange {
  readonly subject: Subject;
  readonly before: Standing;
  readonly after: Standing;
}

/** What a standing asks for: nothing, a word, or a stop. */
export type Gravity = 'none' | 'warn' | 'hold';

const GRAVITIES: readonly Gravity[] = ['none', 'warn', 'hold'];

export function gravityOf({ breach }: Standing): Gravity {
  return breach?.action ?? 'none';
}

/** Above 0 where the subject stands worse than before. */
export function worsening({ before, after }: Pick<StandingChange, 'before' | 'after'>): number {
  return GRAVITIES.indexOf(gravityOf(after)) - GRAVITIES.indexOf(gravityOf(before));
}

/**
 * Those of the subjects that stand otherwise under one setup than under another, at the same time.
 * @throws Error where `world` lacks one of them.
 */
export function standingChanges(
  world: World,
  setups: { readonly before: Rules; readonly after: Rules },
  kind: LimitKind,
  subjects: readonly Subject[],
  at: string,
): StandingChange[] {
  return subjects.flatMap((subject) => {
    const before = standingOf(world, setups.before, kind, subject, at);
    const after = standingOf(world, setups.after, kind, subject, at);
    return worsening({ before, after }) === 0 ? [] : [{ subject, before, after }];
  });
}
