import type { Schemas } from '../../api/client.js';
import type { ExplainedHold } from '../hold-shape.js';

/** An open hold of a site that nobody has worked on, with what a spec changes of it. */
export function bareHold(given: Partial<ExplainedHold> = {}): ExplainedHold {
  return {
    id: '5f8a4a3e-1111-4222-8333-444455556666',
    state: 'open',
    stage: 'new',
    reason: 'site-reworks',
    subject: { kind: 'site', assembly: 'A-1', serial: '0103', refdes: 'U7' },
    raisedAt: '2026-03-03T09:00:00Z',
    cause: null,
    evidence: { summary: '4 of 3 allowed reworks used.' },
    remedy: 'Have quality decide.',
    unit: { assembly: 'A-1', serial: '0103' },
    customer: 'Thimblewick',
    station: 'BENCH-1',
    operator: null,
    raisedBy: null,
    decision: null,
    dispositions: [],
    release: null,
    causeGone: false,
    containment: null,
    version: 'one',
    touched: false,
    causes: [],
    rule: null,
    budgets: [],
    otherHolds: [],
    concessions: [],
    entries: [],
    comments: [],
    ...given,
  };
}

/** A disposition that somebody without role approver signed. */
export function decidedBy(by: string, decision: Schemas['Disposition']['decision']): Schemas['Disposition'] {
  const signature = { by, printedName: by, at: '2026-03-03T10:00:00Z', meaning: 'decided', contentHash: '00' };
  return { id: `${by} ${decision}`, decision, note: 'seen', signature, approved: false };
}

/** An entry of the unit's ledger with such data and effects. */
export function entryWith(given: Partial<Schemas['Entry']>): Schemas['Entry'] {
  return {
    subject: 'A-1/0103',
    seq: 5,
    type: 'heatbook.device.removed.v1',
    time: '2026-03-03T08:55:00Z',
    recordedAt: '2026-03-03T09:00:00Z',
    event: { source: '/stations/BENCH-1', id: '7' },
    actor: { kind: 'station', station: 'BENCH-1' },
    data: {},
    effects: [],
    rules: 1,
    prevHash: '00',
    hash: '01',
    ...given,
  };
}

/** A cause with the entries that tell of it. */
export function causeWith(...entries: readonly Schemas['Entry'][]): ExplainedHold['causes'][number] {
  return { source: '/stations/BENCH-1', id: '7', time: '2026-03-03T08:55:00Z', entries: [...entries] };
}
