import { Inject, Injectable } from '@nestjs/common';
import { ContainmentRecord, isNew } from '../../../libs/ledger/containment/containment-record.js';
import { findTouched } from '../../../libs/ledger/containment/find-touched.js';
import { Suspicion } from '../../../libs/ledger/containment/suspect-cause.js';
import { summariseTouched, TouchedSummary } from '../../../libs/ledger/containment/summarise-touched.js';
import { ContainmentTooWide } from '../../../libs/ledger/containment/too-wide.js';
import { Touched } from '../../../libs/ledger/containment/touched.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, type PageQuery, pageOfAll } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { causeBody } from './containment-bodies.js';

interface TouchedView extends Touched {
  /** Open holds on it already. */
  readonly holds: readonly { readonly id: string; readonly reason: string; readonly containment: string | null }[];
}

export interface DryRun extends TouchedSummary, ListBody<TouchedView> {
  readonly cause: object;
}

/** Looks for what a cause reached, on behalf of whoever asks. */
@Injectable()
export class ContainmentDesk {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /** What a containment would hold, with a page of it. @throws ProblemError containment-too-wide, invalid-query */
  async dryRun(suspicion: Suspicion, query: PageQuery): Promise<DryRun> {
    const touched = await this.find(suspicion);
    const page = await listBody(
      query,
      (request) => pageOfAll(touched, ({ key }) => key, request),
      (one) => one,
    );
    const open = await this.deps.reads.holdsOn(page.items.map(({ key }) => key));
    const holdsOf = (key: string): TouchedView['holds'] =>
      open.flatMap(({ id, reason, containment, subject, unit }) => {
        const on =
          subject.kind === 'device' ? `devices/${subject.device}` : `${String(unit?.assembly)}/${String(unit?.serial)}`;
        return on === key ? [{ id, reason, containment }] : [];
      });
    const items = page.items.map((one) => ({ ...one, holds: holdsOf(one.key) }));
    return { cause: causeBody(suspicion), ...summariseTouched(touched), items, nextCursor: page.nextCursor };
  }

  /** How much a containment that is done would hold more if it were repeated now; null while it is not. */
  async missed(record: ContainmentRecord): Promise<number | null> {
    if (record.state !== 'done') return null;
    const [touched, known] = [await this.find(record), await this.deps.containments.marks(record.id)];
    return touched.filter((one) => isNew(one, known.get(one.key))).length;
  }

  private async find(suspicion: Suspicion): Promise<readonly Touched[]> {
    try {
      return await findTouched(this.deps, suspicion);
    } catch (error) {
      if (error instanceof ContainmentTooWide) throw new ProblemError('containment-too-wide', error.message);
      throw error;
    }
  }
}
