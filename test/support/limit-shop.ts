import { causeKey } from '../../libs/domain/holds/cause.js';
import { holdSubjectKey } from '../../libs/domain/holds/hold-subject.js';
import { LimitRule } from '../../libs/domain/limits/limit-rule.js';
import { recheckLimits } from '../../libs/ledger/limits/recheck-limits.js';
import { HoldRecord } from '../../libs/ledger/holds/hold-record.js';
import { WhatIf, whatIf, WhatIfList } from '../../libs/ledger/limits/what-if.js';
import { SealedEntry } from '../../libs/ledger/ports/seal.js';
import { subjectKey } from '../../libs/domain/subject/subject.js';
import { BookHarness } from './book-harness.js';
import { Draft, eventOf } from './domain-events.js';
import { boardDesign, limitRule, partData, profileData } from './domain-rules.js';

/** A small house over a book without its HTTP face: boards come in and are heated, and limits are revised. */
export class LimitShop {
  private place = 0;

  private constructor(
    readonly book: BookHarness,
    /** RFC 3339: what the book takes as now. */
    private readonly now: { at: string },
  ) {}

  static async open(harness: BookHarness, at = '2031-03-04T00:00:00.000Z'): Promise<LimitShop> {
    const { setupStore } = harness;
    await setupStore.revise('assembly', 'BRD', boardDesign(), 'ann');
    await setupStore.revise('assembly', 'ALT', boardDesign({ customer: 'SOUTH' }), 'ann');
    await setupStore.revise('part', 'CHIP', partData(), 'ann');
    const neighbourPeaks = ['U1', 'U2', 'U3', 'U4'].map((refdes) => ({ refdes, peakC: 150 }));
    await setupStore.revise('profile', 'cool@1', profileData({ neighbourPeaks }), 'ann');
    const now = { at };
    const deps = { ...harness.deps, clock: { now: () => now.at } };
    return new LimitShop({ ...harness, deps }, now);
  }

  setClock(at: string): void {
    this.now.at = at;
  }

  /** Facts one minute after another, or as they say, posted together and folded. */
  async tell(...drafts: readonly Draft[]): Promise<void> {
    const events = drafts.map((draft) => {
      this.place += 1;
      const { type, subject, time, order, data } = eventOf(draft, this.place);
      return { specversion: '1.0', type, source: order.source, id: order.id, subject, time, data };
    });
    const { rejected, items } = await this.book.post(events);
    if (rejected > 0) throw new Error(JSON.stringify(items));
    await this.book.fold();
  }

  /** Enters a revision of a limit; whoever waits for `recheck` sees what is in the house judged anew. */
  async revise(name: string, kind: LimitRule['kind'], given: Partial<LimitRule>): Promise<void> {
    await this.book.setupStore.revise('limit', name, limitRule(kind, given), 'ben');
  }

  recheck(stopped?: () => boolean): Promise<void> {
    return recheckLimits(this.book.deps, stopped);
  }

  whatIf(name: string, kind: LimitRule['kind'], given: Partial<LimitRule>): Promise<WhatIf> {
    const { deps, reads } = this.book;
    return whatIf({ reads, setup: deps.setup, clock: deps.clock }, name, limitRule(kind, given));
  }

  async holds(): Promise<readonly HoldRecord[]> {
    const { items } = await this.book.reads.holds({}, { limit: 500, cursor: null });
    return items;
  }

  /** Holds as `state reason subject`. */
  async desk(reason?: string): Promise<string[]> {
    const all = (await this.holds()).filter((hold) => reason === undefined || hold.reason === reason);
    return all.map((hold) => `${hold.state} ${hold.reason} ${holdSubjectKey(hold.subject)}`).sort();
  }

  /** Keys of the causes of all holds, whatever became of them. */
  async causes(): Promise<string[]> {
    return (await this.holds()).flatMap((hold) => hold.causes.map((event) => causeKey({ ...hold, event }))).sort();
  }

  /** Entries of a ledger that tell of rechecks. */
  async rechecks(key: string): Promise<readonly SealedEntry[]> {
    const type = 'heatbook.limit.rechecked.v1';
    return this.book.reads.ledger(key, { limit: 500, order: 'asc', afterSeq: null, type });
  }
}

export function subjectsIn({ items }: WhatIfList): string[] {
  return items.map(({ subject }) => subjectKey(subject)).sort();
}
