import { boardDesign } from '../../../test/support/domain-rules.js';
import { memoryHarness } from '../../../test/support/book-harness.js';
import { silentLog } from '../../../test/support/silent-log.js';
import { IncomingEvent } from '../ports/book-store.js';
import { FoldDesk, FoldRound } from './fold-desk.js';

const TRACE = '0af7651916cd43dd8448eb211c80319c';

/** A heat without its heat: no check lets it in. */
function spoilt(id: string, request?: IncomingEvent['request']): IncomingEvent {
  const [source, subject, type] = ['/stations/HOT-1', 'BRD/1', 'heatbook.site.heated.v1'];
  const payload = { id, source, subject, type, time: '2030-01-01T00:00:00Z', data: { refdes: 'U1' } };
  return { id, source, subject, type, contentHash: id, payload: JSON.stringify(payload), request };
}

it('an event that cannot be judged is told of with the request that brought it, and the others are folded', async () => {
  const told: unknown[] = [];
  const rounds: FoldRound[] = [];
  const { deps, setupStore, reads, close } = await memoryHarness();
  await setupStore.revise('assembly', 'BRD', boardDesign(), 'spec');
  const request = { id: 'bench-7.42', traceparent: `00-${TRACE}-b7ad6b7169203331-01` };
  const [received, heated] = [
    { ...spoilt('e0'), type: 'heatbook.unit.received.v1' },
    [spoilt('e1', request), spoilt('e2')],
  ];
  const payload = received.payload.replace('site.heated', 'unit.received').replace('{"refdes":"U1"}', '{}');
  await deps.store.accept([{ ...received, payload }, ...heated]);
  const log = { ...silentLog, error: (_message: string, details?: object) => void told.push(details) };
  const watch = { requests: false, failed: () => undefined, folded: (round: FoldRound) => void rounds.push(round) };
  const desk = new FoldDesk({ ...deps, log }, { watch });
  for (const shard of await deps.store.shardsDue()) await desk.fold(shard);
  expect(told).toEqual([
    { event: expect.objectContaining({ id: 'e1' }) as object, attempts: 1, requestId: 'bench-7.42', traceId: TRACE },
    { event: expect.objectContaining({ id: 'e2' }) as object, attempts: 1 },
  ]);
  expect(rounds).toMatchObject([{ folded: 3, postponed: 2, parked: 0 }]);
  expect(await reads.eventStatus({ source: '/stations/HOT-1', id: 'e0' })).toMatchObject({ state: 'applied' });
  await close();
});
