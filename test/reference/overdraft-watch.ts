import { allBudgets, Limit, LIMITS, Spend, Told } from './gate-words.js';
import { NaiveGate } from './naive-gate.js';
import { heldBack, tell, useKey } from './naive-story.js';

/**
 * Watches a gate for the two things that it is there for. What is used is never above what is allowed unless a hold, open or
 * released, or a concession answers for it. And used and reserved together grow beyond what is allowed only by what no gate
 * can stop: heats that nobody had cleared or that did more than was planned, words that came late, and what people take
 * back. Neither looks at what comes off to be scrapped, which is let through on purpose.
 */
export class OverdraftWatch {
  private readonly over = new Map<string, number>();
  private facts = 0;
  private takenBack = 0;

  constructor(private readonly naive: NaiveGate) {}

  /** @returns what is wrong, in words; to be asked after every operation. */
  look(now: number): readonly string[] {
    const isExcused = this.isExcused(now);
    const story = this.naive.story();
    const exempt = (spends: readonly Spend[], subject: string, limit: Limit): number =>
      spends.filter((one) => one.exempt && one.subject === subject && one.limit === limit).length;
    return allBudgets().flatMap(({ subject, limit }) => {
      if (LIMITS[limit].action === 'warn') return [];
      const { used, reserved, allowed } = this.naive.figures(story, now, subject, limit);
      const spent = used - exempt(story.spent, subject, limit);
      const open = reserved - exempt(heldBack(this.naive.clearances, story.uses, now), subject, limit);
      const key = `${limit} ${subject}`;
      const over = Math.max(0, spent + open - allowed);
      const grown = over > (this.over.get(key) ?? 0) && !isExcused;
      this.over.set(key, over);
      const unheld = spent > allowed && !this.isAnswered(subject, limit);
      return [...(grown ? [`${key} is overdrawn by the gate itself`] : []), ...(unheld ? [`${key} has no hold`] : [])];
    });
  }

  private isAnswered(subject: string, limit: Limit): boolean {
    const isHeld = this.naive.desk.holds.some(
      (hold) => hold.reason === limit && hold.subject === subject && hold.state !== 'withdrawn',
    );
    return isHeld || this.naive.concessions.some((one) => one.subject === subject && one.limit === limit);
  }

  /** Whether anything happened since the last look that a gate cannot stop. */
  private isExcused(now: number): boolean {
    const { told, concessions } = this.naive;
    const fresh = told.slice(this.facts);
    const takenBack = told.filter(({ struck }) => struck).length + concessions.filter((one) => one.withdrawn).length;
    const isTakenBack = takenBack > this.takenBack;
    this.facts = told.length;
    this.takenBack = takenBack;
    return isTakenBack || fresh.some((fact) => !this.isCovered(fact, now));
  }

  /** Whether a fact came in order, and spent nothing that an open clearance did not hold back for it. */
  private isCovered(fact: Told, now: number): boolean {
    const { told, clearances } = this.naive;
    const earlier = told.filter((one) => one !== fact && !one.struck);
    if (earlier.some(({ at }) => at > fact.at)) return false;
    const { uses, spent } = this.naive.story();
    const before = tell(earlier, clearances).spent;
    const spends = spent.slice(before.length);
    if (spends.length === 0) return true;
    const number = fact.names ?? -1;
    const clearance = clearances[number];
    if (clearance === undefined || clearance.returnedAt !== null || now >= clearance.expiresAt) return false;
    const step = clearance.steps.find((_, place) => uses.get(useKey(number, place)) === fact.number);
    const held = step?.reserves ?? [];
    return spends.every((one) =>
      held.some((kept) => kept.subject === one.subject && kept.limit === one.limit && (one.exempt || !kept.exempt)),
    );
  }
}
