import { type EventName, type EventNow, retryEvents, type RetryAsking, type RetryOutcome } from './retry-events.js';

const event = (id: string): EventName => ({ source: '/stations/HG-2', id });

/** Answers as they are given for each event, the last one for ever. */
function asking(answers: Readonly<Record<string, readonly EventNow[]>>, retried = 1) {
  const looks = new Map<string, number>();
  const order: string[] = [];
  const service: RetryAsking = {
    retry: ({ id }) => {
      order.push(`retry ${id}`);
      return Promise.resolve(retried);
    },
    now: ({ id }) => {
      const look = looks.get(id) ?? 0;
      looks.set(id, look + 1);
      order.push(`look ${id}`);
      const given = answers[id] ?? [];
      const answer = given[Math.min(look, given.length - 1)];
      return answer === undefined ? Promise.reject(new Error('no answer')) : Promise.resolve(answer);
    },
    pause: () => Promise.resolve(),
  };
  return { service, order, looks };
}

async function outcomes(ids: readonly string[], service: RetryAsking): Promise<Record<string, RetryOutcome>> {
  const last: Record<string, RetryOutcome> = {};
  await retryEvents(ids.map(event), service, ({ id }, outcome) => {
    last[id] = outcome;
  });
  return last;
}

describe('Trying parked events again', () => {
  it('tells of each whether it was applied, or why it is parked again', async () => {
    const reason = { detail: 'No site U10.', remedy: 'Add it.' };
    const { service, order } = asking({
      a: [{ state: 'pending' }, { state: 'applied' }],
      b: [{ state: 'parked', reason }],
    });
    expect(await outcomes(['a', 'b'], service)).toEqual({ a: { state: 'applied' }, b: { state: 'parked', ...reason } });
    expect(order.slice(0, 2)).toEqual(['retry a', 'retry b']);
  });

  it('does not wait for ever for one that stays pending', async () => {
    const { service, looks } = asking({ a: [{ state: 'pending' }] });
    expect(await outcomes(['a'], service)).toEqual({ a: { state: 'pending' } });
    expect(looks.get('a')).toBe(20);
  });

  it('says where somebody else was quicker, and asks no further', async () => {
    const { service, looks } = asking({ a: [{ state: 'applied' }] }, 0);
    expect(await outcomes(['a'], service)).toEqual({ a: { state: 'gone' } });
    expect(looks.size).toBe(0);
  });

  it('goes on with the others where one fails', async () => {
    const { service } = asking({ a: [], b: [{ state: 'applied' }] });
    const { a, b } = await outcomes(['a', 'b'], service);
    expect([a?.state, b?.state]).toEqual(['failed', 'applied']);
  });
});
