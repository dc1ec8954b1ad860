import { ContainmentRecord } from '../../../libs/ledger/containment/containment-record.js';
import { causeBody } from './containment-bodies.js';

/** A containment as the API shows it. Times are RFC 3339 UTC. */
export interface ContainmentView extends Pick<
  ContainmentRecord,
  'id' | 'holdCause' | 'causeHolds' | 'state' | 'failure' | 'rounds' | 'requestedAt' | 'finishedAt'
> {
  readonly cause: object;
  readonly progress: { readonly found: number | null; readonly held: number };
}

export function containmentView(record: ContainmentRecord): ContainmentView {
  const { id, holdCause, causeHolds, state, failure, rounds, requestedAt, finishedAt, found, held } = record;
  return {
    id,
    cause: causeBody(record),
    holdCause,
    causeHolds,
    state,
    progress: { found, held },
    failure,
    rounds,
    requestedAt,
    finishedAt,
  };
}
