import { FoldRound } from '../../libs/ledger/fold/fold-desk.js';
import { Tracer } from '../../libs/ledger/ports/tracer.js';
import { MOST_LINKS, sampledOf } from '../../libs/ledger/requests/traceparent.js';

/**
 * Makes a fold a span after the fact: a part of the wake-up that asked for it or, where the sweep did, of the first request
 * whose events it folded; linked to the others. One that folded nothing of a traced request is not traced.
 */
export function traceFold(tracer: Tracer, { wakeUps, requests, sinceMs, ...round }: FoldRound): void {
  const [asked, brought] = [sampledOf(wakeUps), sampledOf(requests.map(({ traceparent }) => traceparent))];
  const [parent] = [...asked, ...brought];
  if (parent === undefined) return;
  // The first wake-up says it as the parent already; a request is always found by its link.
  const others = [...new Set([...brought, ...asked.slice(1)])];
  const facts = {
    'heatbook.shards': round.own.length,
    'heatbook.events.folded': round.folded,
    'heatbook.events.parked': round.parked,
    'heatbook.events.postponed': round.postponed,
  };
  tracer.begin('fold', { kind: 'consumer', parent, links: others.slice(0, MOST_LINKS), sinceMs, facts }).end();
}
