import { Inject, Injectable } from '@nestjs/common';
import { holdSubjectKey, isSubject, streamOfHold } from '../../../libs/domain/holds/hold-subject.js';
import type { LimitRule } from '../../../libs/domain/limits/limit-rule.js';
import { subjectKey } from '../../../libs/domain/subject/subject.js';
import { concessionById, type ConcessionRecord } from '../../../libs/ledger/concessions/concession-record.js';
import { BOOK_ENTRY_TYPES } from '../../../libs/ledger/fold/book-effect.js';
import { ledgerOf } from '../../../libs/ledger/fold/rebuild-group.js';
import type { HoldComment, HoldRecord } from '../../../libs/ledger/holds/hold-record.js';
import type { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import type { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import type { BudgetView } from '../../../libs/ledger/views/budget-view.js';
import type { DeskEye } from '../../../libs/ledger/views/desk-hold-view.js';
import { readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { DeviceReader } from '../units/device-reader.js';
import { UnitReader } from '../units/unit-reader.js';
import { type ExplainedCause, explainCauses } from './explain-causes.js';
import { isOfTheHouse, type SeenHold, seenHold } from './seen-hold.js';

/** Other holds and entries that are shown with one; a desk that has more of them on one unit looks at the unit. */
const MOST_SHOWN = 100;

/** A hold with everything that explains it. */
export type ExplainedHold = SeenHold & {
  /** Events that call for it, in the order in which they happened. */
  readonly causes: readonly ExplainedCause[];
  /** A person has worked on it, so the rules do not take it back by themselves. */
  readonly touched: boolean;
  /** The limit that broke, as it read in the revision that it was judged by; null where it is no limit of the setup. */
  readonly rule: (LimitRule & { readonly name: string; readonly revision: number }) | null;
  /** What its subject has spent and has left now. */
  readonly budgets: readonly BudgetView[];
  /** Other open holds on the same unit, or on the same subject where that is on no unit. */
  readonly otherHolds: readonly SeenHold[];
  /** For the subject, or for anything else on its unit; those that were withdrawn too. A customer sees none of devices. */
  readonly concessions: readonly ConcessionRecord[];
  /** What its ledger tells of the hold itself: raised by hand, disposed, released. */
  readonly entries: readonly SealedEntry[];
  /** Oldest first. The house's own. */
  readonly comments?: readonly HoldComment[];
};

/** Puts together what one needs to decide about a hold. */
@Injectable()
export class HoldExplainer {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly units: UnitReader,
    private readonly devices: DeviceReader,
  ) {}

  async explain(hold: HoldRecord, eye: DeskEye): Promise<ExplainedHold> {
    await this.deps.setup.catchUp();
    const reads = readsFor(this.deps, eye.caller);
    const [causes, budgets, others, entries] = await Promise.all([
      explainCauses(reads, hold.causes),
      this.budgetsAround(reads, hold),
      this.otherHolds(reads, hold),
      this.entriesOf(reads, hold),
    ]);
    const own = holdSubjectKey(hold.subject);
    const isUnit = hold.subject.kind === 'unit';
    return {
      ...seenHold(hold, eye),
      ...{ causes, touched: hold.touched, rule: this.ruleOf(hold) },
      budgets: budgets.filter(({ subject }) => isUnit || subjectKey(subject) === own),
      otherHolds: others.filter(({ id }) => id !== hold.id).map((other) => seenHold(other, eye)),
      concessions: this.concessionsOn(new Set([own, ...budgets.map(({ subject }) => subjectKey(subject))])).filter(
        // A device may have come with one that another customer approved for it, in their words.
        ({ subject }) => isOfTheHouse(eye.caller) || subject.kind !== 'device',
      ),
      entries,
      ...(isOfTheHouse(eye.caller) && { comments: hold.comments }),
    };
  }

  private ruleOf({ evidence }: HoldRecord): ExplainedHold['rule'] {
    const { limit } = evidence;
    if (limit === undefined) return null;
    const found = this.deps.setup.revisions('limit', limit.name).find(({ revision }) => revision === limit.revision);
    return found?.kind === 'limit' ? { name: found.name, revision: found.revision, ...found.body } : null;
  }

  /** Of the whole unit, or of the device alone where it is on none. */
  private async budgetsAround(reads: ReadStore, { subject, unit }: HoldRecord): Promise<readonly BudgetView[]> {
    if (!isSubject(subject)) return [];
    const ofUnit =
      unit === null ? [] : await this.orNone(this.units.read(reads, unit.assembly, unit.serial).then((u) => u.view));
    const isThere = ofUnit.some((budget) => subjectKey(budget.subject) === subjectKey(subject));
    if (isThere || subject.kind !== 'device') return ofUnit;
    return [...ofUnit, ...(await this.orNone(this.devices.read(reads, subject.device)))];
  }

  /** What a parked event is about may be in the book under no such name. */
  private async orNone(reading: Promise<{ budgets: readonly BudgetView[] }>): Promise<readonly BudgetView[]> {
    try {
      return (await reading).budgets;
    } catch (error) {
      if (error instanceof ProblemError && error.code === 'not-found') return [];
      throw error;
    }
  }

  private async otherHolds(reads: ReadStore, { subject, unit }: HoldRecord): Promise<readonly HoldRecord[]> {
    if (unit === null) return reads.holdsOn([streamOfHold(subject)]);
    const page = { limit: MOST_SHOWN, cursor: null };
    return (await reads.holds({ state: 'open', ...unit }, page)).items;
  }

  private concessionsOn(subjects: ReadonlySet<string>): ConcessionRecord[] {
    const rules = this.deps.setup.latest();
    const names = [...subjects].flatMap((subject) => rules.concessions(subject).map(({ name }) => name));
    return names.flatMap((name) => concessionById(this.deps.setup, name) ?? []);
  }

  private async entriesOf(reads: ReadStore, hold: HoldRecord): Promise<SealedEntry[]> {
    const { holdRaised, holdDisposed, holdReleased } = BOOK_ENTRY_TYPES;
    const found = await Promise.all(
      [holdRaised, holdDisposed, holdReleased].map((type) => {
        return reads.ledger(ledgerOf(hold), { limit: MOST_SHOWN, order: 'desc', afterSeq: null, type });
      }),
    );
    const own = found.flat().filter(({ data }) => isAbout(data, hold.id));
    return own.sort((a, b) => a.seq - b.seq);
  }
}

function isAbout(data: unknown, hold: string): boolean {
  return typeof data === 'object' && data !== null && 'hold' in data && data.hold === hold;
}
