import fc from 'fast-check';
import { ClockEstimate } from './clock-estimate.js';

/** An answer of a server whose clock is ahead by so much, stamped somewhere on the way. */
function sample(offsetMs: number, sentAtMs: number, thereMs: number, backMs: number) {
  const stampMs = Math.floor((sentAtMs + thereMs + offsetMs) / 1000) * 1000;
  return { sentAtMs, receivedAtMs: sentAtMs + thereMs + backMs, date: new Date(stampMs).toUTCString() };
}

it('is right within its uncertainty, however uneven the way', () => {
  const legs = fc.tuple(fc.nat({ max: 60_000 }), fc.nat({ max: 800 }), fc.nat({ max: 800 }));
  fc.assert(
    fc.property(
      fc.integer({ min: -1e8, max: 1e8 }),
      fc.array(legs, { minLength: 1, maxLength: 40 }),
      (offsetMs, all) => {
        const clock = new ClockEstimate();
        for (const [at, there, back] of all) clock.add(sample(offsetMs, 1_800_000_000_000 + at, there, back));
        const found = clock.offset();
        expect(found?.isContradictory).toBe(false);
        expect(Math.abs((found?.offsetMs ?? NaN) - offsetMs)).toBeLessThanOrEqual((found?.uncertaintyMs ?? NaN) + 0.5);
      },
    ),
  );
});

it('grows surer with answers at different moments of the second', () => {
  const clock = new ClockEstimate();
  clock.add(sample(-4_321, 1_800_000_000_000, 5, 5));
  expect(clock.offset()).toMatchObject({ uncertaintyMs: 505, samples: 1 });
  for (let n = 1; n < 10; n += 1) clock.add(sample(-4_321, 1_800_000_000_000 + n * 100, 5, 5));
  const found = clock.offset();
  expect(found?.uncertaintyMs).toBeLessThanOrEqual(55);
  expect(Math.abs((found?.offsetMs ?? 0) + 4_321)).toBeLessThanOrEqual(55);
});

it('says so where answers contradict each other, and covers them all', () => {
  const clock = new ClockEstimate();
  clock.add(sample(0, 1_800_000_000_000, 5, 5));
  clock.add(sample(5_000, 1_800_000_000_100, 5, 5));
  expect(clock.offset()).toMatchObject({ isContradictory: true, samples: 2 });
  expect(clock.offset()?.uncertaintyMs).toBeGreaterThan(2_500);
});

it('learns nothing of an answer without a date', () => {
  const clock = new ClockEstimate();
  clock.add({ sentAtMs: 1, receivedAtMs: 2, date: null });
  clock.add({ sentAtMs: 1, receivedAtMs: 2, date: 'yesterday' });
  expect(clock.offset()).toBeUndefined();
});

it('forgets what it has learnt when this clock is set', () => {
  const clock = new ClockEstimate();
  clock.add(sample(0, Date.now(), 5, 5));
  expect(clock.offset()).toBeDefined();
  const now = Date.now.bind(Date);
  Date.now = () => now() + 60_000;
  try {
    expect(clock.offset()).toBeUndefined();
  } finally {
    Date.now = now;
  }
});
