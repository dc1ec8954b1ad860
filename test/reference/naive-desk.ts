import { Call } from './gate-words.js';

export type Decision = 'use-as-is' | 'rework' | 'repair' | 'scrap' | 'return-to-customer';

/** Who signs in this shop, and whether as an approver. */
export const SIGNERS = { ann: false, bea: true, cy: false } as const;
export type Signer = keyof typeof SIGNERS;

export interface NaiveHold {
  readonly reason: string;
  readonly subject: string;
  /** Numbers of the facts that call for it. */
  causes: number[];
  readonly raisedBy: Signer | null;
  decisions: { readonly decision: Decision; readonly by: Signer; readonly at: number }[];
  state: 'open' | 'released' | 'withdrawn';
  causeGone: boolean;
  /** Released though nothing had been decided, since there was no cause any more. */
  unanswered: boolean;
}

/** What people and facts made of holds. */
export class NaiveDesk {
  readonly holds: NaiveHold[] = [];

  open(): readonly NaiveHold[] {
    return this.holds.filter(({ state }) => state === 'open');
  }

  raise(subject: string, by: Signer): void {
    this.holds.push(holdOf('by-hand', subject, [], by));
  }

  /**
   * Brings the holds in line with what the whole story calls for now. A hold without a cause is withdrawn; one that was
   * decided about is kept and marked. A call that a hold answers for, open or released, raises no other.
   */
  hear(calls: readonly Call[]): void {
    const ofFacts = this.holds.filter(({ reason, state }) => reason !== 'by-hand' && state !== 'withdrawn');
    for (const hold of ofFacts) {
      if (hold.unanswered) continue;
      const left = hold.causes.filter((fact) => calls.some((call) => isFor(call, hold) && call.fact === fact));
      if (left.length > 0) {
        hold.causes = left;
        hold.causeGone = false;
      } else if (hold.state === 'open' && hold.decisions.length === 0) hold.state = 'withdrawn';
      else hold.causeGone = true;
    }
    for (const call of calls) {
      const same = this.holds.filter((hold) => isFor(call, hold) && hold.state !== 'withdrawn' && !hold.unanswered);
      if (same.some(({ causes }) => causes.includes(call.fact))) continue;
      const open = same.find(({ state }) => state === 'open');
      if (open === undefined) this.holds.push(holdOf(call.reason, call.subject, [call.fact], null));
      else {
        open.causes.push(call.fact);
        open.causeGone = false;
      }
    }
  }

  /** @returns what it is refused for, or null. */
  dispose(hold: NaiveHold, decision: Decision, by: Signer, at: number): string | null {
    if (!fitting(hold.subject).includes(decision)) return 'decision-unfit';
    hold.decisions.push({ decision, by, at });
    return null;
  }

  /** @returns what it is refused for, or null. */
  release(hold: NaiveHold, by: Signer): string | null {
    const last = hold.decisions.at(-1);
    if (last === undefined && !hold.causeGone) return 'disposition-needed';
    if (by === hold.raisedBy || by === last?.by) return 'two-people-needed';
    if (last?.decision === 'use-as-is' && !SIGNERS[by] && !SIGNERS[last.by]) return 'approver-needed';
    hold.state = 'released';
    hold.unanswered = last === undefined;
    return null;
  }
}

function holdOf(reason: string, subject: string, causes: number[], raisedBy: Signer | null): NaiveHold {
  return { reason, subject, causes, raisedBy, decisions: [], state: 'open', causeGone: false, unanswered: false };
}

function isFor(call: Call, hold: NaiveHold): boolean {
  return call.reason === hold.reason && call.subject === hold.subject;
}

function fitting(subject: string): readonly Decision[] {
  if (/^(stations|operators|profiles)\//u.test(subject)) return ['use-as-is'];
  const decisions: Decision[] = ['use-as-is', 'rework', 'scrap', 'return-to-customer'];
  return subject.startsWith('devices/') ? decisions : [...decisions, 'repair'];
}
