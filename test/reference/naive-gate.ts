import { Conceded, Granted, GrantedStep, Limit, LIMITS, Spend, Told } from './gate-words.js';
import { NaiveDesk, NaiveHold } from './naive-desk.js';
import { Ask, concerns, Played, playThrough } from './naive-plan.js';
import { allowedOf, heldBack, isUsedUp, Story, tell, usedOf } from './naive-story.js';

/** A concession; it holds from when it was signed until it is withdrawn. */
export interface NaiveConcession extends Conceded {
  withdrawn: boolean;
}

/** The answer in lines that can be compared: first `granted` or `refused`. */
export type NaiveAnswer = readonly string[];

/**
 * The gate as the contract tells of it, done as simply as can be: it keeps lists of what was said and tells everything from
 * the beginning whenever it is asked. It shares nothing with the product.
 */
export class NaiveGate {
  readonly told: Told[] = [];
  readonly clearances: Granted[] = [];
  readonly concessions: NaiveConcession[] = [];
  readonly desk = new NaiveDesk();
  /** Boards with an open hold about how they left, which this gate does not judge: as the book has it, one for each. */
  stoppedByShipment: readonly string[] = [];

  story(): Story {
    return tell(this.told, this.clearances);
  }

  conceded(): readonly Conceded[] {
    return this.concessions.filter(({ withdrawn }) => !withdrawn);
  }

  say(fact: Omit<Told, 'number' | 'struck' | 'conceded'>): void {
    this.told.push({ ...fact, number: this.told.length, struck: false, conceded: this.conceded() });
    this.settle();
  }

  /** False where it had been struck before. */
  strike(number: number): boolean {
    const fact = this.told[number];
    if (fact === undefined || fact.struck) return false;
    fact.struck = true;
    this.settle();
    return true;
  }

  private settle(): void {
    this.desk.hear(this.story().calls);
  }

  /** @returns what became of it: `all-used`, `returned` (now or before) or `over`. */
  giveBack(number: number, now: number): string {
    const clearance = this.clearances[number];
    if (clearance === undefined || isUsedUp(clearance, number, this.story().uses)) return 'all-used';
    if (clearance.returnedAt === null && now >= clearance.expiresAt) return 'over';
    clearance.returnedAt ??= now;
    return 'returned';
  }

  /** @returns how many ran out with steps left that were not told of before. */
  lapse(now: number): number {
    const { uses } = this.story();
    const over = this.clearances.filter(
      (one, number) => !one.lapsed && one.returnedAt === null && now >= one.expiresAt && !isUsedUp(one, number, uses),
    );
    for (const clearance of over) clearance.lapsed = true;
    return over.length;
  }

  /** @returns false where it is no looser than what applies. */
  concede(subject: string, limit: Limit, allowed: number, now: number): boolean {
    if (allowed <= allowedOf(subject, limit, now, this.conceded())) return false;
    this.concessions.push({ subject, limit, allowed, from: now, withdrawn: false });
    return true;
  }

  figures(
    story: Story,
    now: number,
    subject: string,
    limit: Limit,
  ): { used: number; reserved: number; allowed: number } {
    return {
      used: usedOf(story.spent, subject, limit),
      reserved: heldBack(this.clearances, story.uses, now).filter(
        (one) => one.subject === subject && one.limit === limit,
      ).length,
      allowed: allowedOf(subject, limit, now, this.conceded()),
    };
  }

  ask(wish: Ask, now: number): NaiveAnswer {
    const story = this.story();
    const { played, contradictions } = playThrough(story, wish);
    const spends = played.flatMap((step) => step.spends);
    const rows = this.rowsOf(story, now, spends);
    const over = rows.flatMap((row) => (row.over ? [row.line] : []));
    const reasons = [...this.heldBy(wish, played), ...contradictions, ...over];
    if (reasons.length > 0) return ['refused', ...reasons.sort()];
    const steps: GrantedStep[] = played.map((step) => ({ ...step, reserves: step.spends }));
    const expiresAt = now + wish.ttlMinutes * 60_000;
    this.clearances.push({ subject: wish.subject, steps, grantedAt: now, expiresAt, returnedAt: null, lapsed: false });
    return ['granted', ...rows.map(({ line }) => line).sort()];
  }

  /** What is used, held back by others and asked, of every budget that a plan spends of. */
  private rowsOf(
    story: Story,
    now: number,
    spends: readonly Spend[],
  ): { readonly over: boolean; readonly line: string }[] {
    const budgets = new Map(spends.map((one) => [`${one.limit} ${one.subject}`, one]));
    return [...budgets.values()].map(({ subject, limit }) => {
      const { used, reserved, allowed } = this.figures(story, now, subject, limit);
      const own = spends.filter((one) => one.subject === subject && one.limit === limit);
      // Nothing that comes off to be scrapped is stopped by what it has been through.
      const stops = own.map(({ exempt }) => !exempt).lastIndexOf(true) + 1;
      return {
        over: LIMITS[limit].action === 'hold' && stops > 0 && used + reserved + stops > allowed,
        line: `${limit} ${subject} used ${String(used)} reserved ${String(reserved)} asked ${String(own.length)} allowed ${String(allowed)}`,
      };
    });
  }

  private heldBy(wish: Ask, played: readonly Played[]): string[] {
    const shipped = this.stoppedByShipment.map((subject) => ({ code: 'hold-open', subject }));
    const held = this.desk.holds.map((hold) => ({ code: this.stopOf(hold), subject: hold.subject }));
    return [...held, ...shipped].flatMap(({ code, subject }) =>
      code !== null && concerns(subject, code, wish, played) ? [`${code} ${subject}`] : [],
    );
  }

  /** What a hold stops by: scrap and return also after their release. */
  private stopOf(hold: NaiveHold): string | null {
    if (hold.state === 'withdrawn') return null;
    const last = hold.decisions.at(-1);
    if (last?.decision === 'scrap') return 'decided-scrap';
    if (last?.decision === 'return-to-customer' && !this.cameBack(hold.subject, last.at)) return 'route-closed';
    if (hold.state !== 'open' || last?.decision === 'rework' || last?.decision === 'repair') return null;
    return 'hold-open';
  }

  private cameBack(subject: string, since: number): boolean {
    const stream = subject.split('#')[0] ?? '';
    const after = (kind: Told['doing']['kind'], from: number): readonly Told[] =>
      this.told.filter((fact) => !fact.struck && fact.subject === stream && fact.doing.kind === kind && fact.at > from);
    if (stream.startsWith('devices/')) return after('device-in', since).length > 0;
    return after('shipped', since).some(({ at }) => after('received', at).length > 0);
  }
}
