import { mulberry32 } from '../../support/mulberry32.js';
import { exponential } from './exponential.js';
import { SimulatedServer } from './simulated-server.js';
import { SimulatedTime } from './simulated-time.js';

const SERVICE_US = 100;

/** Mean wait before service, in service times, where work that takes always as long comes by chance (Poisson). */
function meanWait(utilisation: number, arrivals: number): { wait: number; utilisation: number } {
  const time = new SimulatedTime();
  const server = new SimulatedServer(time, 1);
  const random = mulberry32(1);
  let waited = 0;
  const arrive = (left: number): void => {
    const came = time.now;
    server.serve(SERVICE_US, () => {
      waited += time.now - came - SERVICE_US;
    });
    if (left > 1) {
      time.after(exponential(random, SERVICE_US / utilisation), () => {
        arrive(left - 1);
      });
    }
  };
  arrive(arrivals);
  time.run();
  return { wait: waited / arrivals / SERVICE_US, utilisation: server.utilisation };
}

describe('a simulated server', () => {
  // Pollaczek and Khinchine's formula for one server with service times that are all alike (M/D/1): r / (2 (1 - r)).
  it.each([0.2, 0.5, 0.8, 0.9])('at utilisation %d lets work wait as long as the formula for M/D/1 says', (r) => {
    const found = meanWait(r, 300_000);
    const formula = r / (2 * (1 - r));
    expect(found.utilisation).toBeCloseTo(r, 2);
    expect(Math.abs(found.wait / formula - 1)).toBeLessThan(0.05);
  });

  it('does as much at a time as it has cores, in order, and knows what waited', () => {
    const time = new SimulatedTime();
    const server = new SimulatedServer(time, 2);
    const done: string[] = [];
    for (const [name, us] of [
      ['a', 10],
      ['b', 30],
      ['c', 10],
      ['d', 5],
    ] as const) {
      server.serve(us, () => done.push(`${name} ${String(time.now)}`));
    }
    expect(server.longestQueue).toBe(2);
    time.run();
    expect(done).toEqual(['a 10', 'c 20', 'd 25', 'b 30']);
    expect(server.utilisation).toBeCloseTo(55 / 60, 10);
  });
});

describe('simulated time', () => {
  it('comes in order, and what is planned for the same moment in the order of planning', () => {
    const time = new SimulatedTime();
    const random = mulberry32(7);
    const came: number[] = [];
    for (let n = 0; n < 1_000; n += 1) {
      time.after(Math.floor(random() * 50), () => came.push(time.now * 1_000 + n));
    }
    time.run();
    expect(came).toHaveLength(1_000);
    expect(came).toEqual(came.toSorted((a, b) => a - b));
  });

  it('does not go back', () => {
    const time = new SimulatedTime();
    expect(() => {
      time.after(-1, () => undefined);
    }).toThrow('-1 us');
    expect(() => {
      time.after(NaN, () => undefined);
    }).toThrow('NaN us');
  });
});
