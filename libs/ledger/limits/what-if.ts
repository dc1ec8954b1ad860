import { World } from '../../domain/book/state.js';
import { orderTime } from '../../domain/events/event-order.js';
import { holdKey } from '../../domain/holds/cause.js';
import { whyNotAssessed } from '../../domain/limits/assessable.js';
import { withDraft } from '../../domain/limits/limit-lines.js';
import { LimitKind, LimitRule } from '../../domain/limits/limit-rule.js';
import { revisionInForce } from '../../domain/limits/resolve-limit.js';
import { StandingChange, standingChanges, worsening } from '../../domain/limits/standing-change.js';
import { subjectsOf } from '../../domain/limits/standing.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Subject } from '../../domain/subject/subject.js';
import { worldFromRecords } from '../fold/make-world.js';
import { SubjectRecord } from '../ports/book-store.js';
import { Clock } from '../ports/clock.js';
import { ReadStore } from '../ports/read-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { aboardOf, devicesOf } from './aboard-of.js';
import { OpenKind } from './limit-recheck.js';
import { toldChange, ToldStanding } from './recheck-entry.js';
import { reachOf, ScopeReach } from './scope-reach.js';

/** Subjects that one read brings to memory. */
const PAGE = 200;
/** Subjects that an answer lists; all of them are counted. */
const MOST_LISTED = 500;

export interface WhatIfDeps {
  readonly reads: ReadStore;
  readonly setup: SetupBook;
  readonly clock: Clock;
}

/** A subject that would stand otherwise. */
export interface WhatIfItem {
  readonly subject: Subject;
  /** The unit that it is, or is on. */
  readonly unit: { readonly assembly: string; readonly serial: string } | null;
  readonly now: ToldStanding;
  readonly then: ToldStanding;
  /** The open hold on it for this kind of limit: it would stay, or be withdrawn. */
  readonly hold: string | null;
}

export interface WhatIfList {
  readonly total: number;
  /** The first ones, in order of subject. */
  readonly items: readonly WhatIfItem[];
}

export interface WhatIf {
  readonly limit: string;
  readonly kind: LimitKind;
  /** What the draft would be. */
  readonly revision: number;
  /** RFC 3339: when it would come into force, and as of when all is compared. */
  readonly effectiveAt: string;
  /** False where what the book keeps does not show how subjects stand; `why` says why. */
  readonly assessed: boolean;
  readonly why?: string;
  readonly examined: { readonly units: number; readonly looseDevices: number };
  readonly newlyInBreach: WhatIfList;
  readonly noLongerInBreach: WhatIfList;
}

/**
 * How what is in the house would stand if a draft were the newest revision of a limit, compared with how it stands
 * without. Reads page by page; nothing is changed.
 */
export async function whatIf(deps: WhatIfDeps, limit: string, draft: LimitRule): Promise<WhatIf> {
  const { setup, clock } = deps;
  await setup.catchUp();
  const before = setup.latest();
  const now = clock.now();
  const from = draft.effectiveFrom;
  const effectiveAt = from !== undefined && orderTime(from) > orderTime(now) ? from : now;
  const line = before.limits(draft.kind).find(([newest]) => newest?.name === limit) ?? [];
  const why = whyNotAssessed(draft.kind);
  const head = { limit, kind: draft.kind, revision: (setup.newest('limit', limit)?.revision ?? 0) + 1, effectiveAt };
  const inForce = revisionInForce(line, orderTime(effectiveAt));
  const survey = new Survey(deps, {
    ...{ before, after: withDraft(before, limit, draft), kind: draft.kind, at: orderTime(effectiveAt) },
    reach: reachOf([draft.scope, ...(inForce === undefined ? [] : [inForce.body.scope])]),
  });
  if (why === undefined) await survey.run();
  return { ...head, assessed: why === undefined, ...(why !== undefined && { why }), ...survey.found() };
}

interface Question {
  readonly before: Rules;
  readonly after: Rules;
  readonly kind: LimitKind;
  /** Normalised. */
  readonly at: string;
  readonly reach: ScopeReach;
}

class Survey {
  private readonly examined = { units: 0, looseDevices: 0 };
  private readonly worse: { total: number; items: WhatIfItem[] } = { total: 0, items: [] };
  private readonly better: { total: number; items: WhatIfItem[] } = { total: 0, items: [] };

  constructor(
    private readonly deps: WhatIfDeps,
    private readonly question: Question,
  ) {}

  found(): Pick<WhatIf, 'examined' | 'newlyInBreach' | 'noLongerInBreach'> {
    return { examined: this.examined, newlyInBreach: this.worse, noLongerInBreach: this.better };
  }

  async run(): Promise<void> {
    const { kind, reach, before } = this.question;
    const ofDevices = kind === 'device-excursions';
    await this.pages('unit', async (page) => {
      const units = page.filter(({ state }) => reach.unit(before, state));
      this.examined.units += units.length;
      const devices = ofDevices ? await this.deps.reads.subjects(units.flatMap(devicesOf)) : [];
      await this.judge(
        units,
        devices,
        ofDevices ? aboardOf(units, devices).flatMap(deviceSubject) : units.flatMap((one) => ofUnit(one, kind)),
      );
    });
    if (!ofDevices || !reach.loose) return;
    await this.pages('device', async (page) => {
      this.examined.looseDevices += page.length;
      await this.judge([], page, page.flatMap(deviceSubject));
    });
  }

  private async pages(kind: OpenKind, each: (page: readonly SubjectRecord[]) => Promise<void>): Promise<void> {
    for (let after: string | null = null; ;) {
      const page: readonly SubjectRecord[] = await this.deps.reads.openSubjects(kind, after, PAGE);
      await each(page);
      const last: SubjectRecord | undefined = page.at(-1);
      if (page.length < PAGE || last === undefined) return;
      after = last.key;
    }
  }

  private async judge(
    units: readonly SubjectRecord[],
    devices: readonly SubjectRecord[],
    subjects: readonly Subject[],
  ): Promise<void> {
    const { before, after, kind, at } = this.question;
    const world = worldFromRecords([...units, ...devices], [], new Map(), new Map());
    const changes = standingChanges(world, { before, after }, kind, subjects, at);
    if (changes.length === 0) return;
    const open = await this.deps.reads.holdsOn([...units, ...devices].map(({ key }) => key));
    const holds = new Map(open.map((hold) => [holdKey(hold), hold.id]));
    for (const change of changes) {
      const list = worsening(change) > 0 ? this.worse : this.better;
      list.total += 1;
      if (list.items.length >= MOST_LISTED) continue;
      list.items.push(itemOf(world, change, holds.get(holdKey({ reason: kind, subject: change.subject })) ?? null));
    }
  }
}

function itemOf(world: World, change: StandingChange, hold: string | null): WhatIfItem {
  const { subject, before, after } = toldChange(change);
  const place = subject.kind === 'device' ? (world.devices.get(subject.device)?.place ?? null) : subject;
  const unit = place === null ? null : { assembly: place.assembly, serial: place.serial };
  return { subject, unit, now: before, then: after, hold };
}

function ofUnit({ state }: SubjectRecord, kind: LimitKind): readonly Subject[] {
  return state?.kind === 'unit' ? subjectsOf(state.state, kind) : [];
}

function deviceSubject({ state }: SubjectRecord): Subject[] {
  return state?.kind === 'device' ? [{ kind: 'device', device: state.state.device }] : [];
}
