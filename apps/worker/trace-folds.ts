import { FoldRound } from '../../libs/ledger/fold/fold-desk.js';
import { Tracer } from '../../libs/ledger/ports/tracer.js';
import { MOST_LINKS, sampledOf } from '../../libs/ledger/requests/traceparent.js';

/**
 * Makes a fold a span after the fact: a part of the wake-up that asked for it or, where the sweep did, of the first request
 * whose events it folded; linked to the others. One that folded nothing of a traced request is not traced.
 */
export function traceFold(tracer: Tracer, { wakeUps, requests, sinceMs, ...round }: FoldRound): void {
  const causes = sampledOf([...wakeUps, ...requests.map(({ traceparent }) => traceparent)]);
  const [parent, ...others] = new Set(causes);
  if (parent === undefined) return;
  const facts = {
    'heatbook.shards': round.own.length,
    'heatbook.events.folded': round.folded,
    'heatbook.events.parked': round.parked,
    'heatbook.events.postponed': round.postponed,
  };
  tracer.begin('fold', { kind: 'consumer', parent, links: others.slice(0, MOST_LINKS), sinceMs, facts }).end();
}
