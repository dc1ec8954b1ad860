import { ServiceClient } from '../../apps/cli/service/service-client.js';
import { Pace } from '../../apps/cli/simulate/play-day.js';
import { runSimulation, Simulation } from '../../apps/cli/simulate/run-simulation.js';
import { DEMO_ASSEMBLIES } from '../../libs/simulator/boards/demo-assemblies.js';
import { MISTAKE_KINDS } from '../../libs/simulator/mistake.js';
import { DayWish } from '../../libs/simulator/simulate-day.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';

const WISH: Omit<DayWish, 'startMs'> = { seed: 11, run: 'A', stations: 4, hours: 4, mistakes: 0, traced: 0.3 };

describe('a simulated day against the product', () => {
  let house: RunningHouse;

  beforeAll(async () => {
    house = await runningHouse();
  });

  afterAll(async () => {
    await house.close();
  });

  function play(wish: Omit<DayWish, 'startMs'>, pace: Pace = {}): Promise<Simulation> {
    return runSimulation(new ServiceClient(house.url, house.adminKey), wish, pace, Date.now);
  }

  it('without mistakes is cleared throughout, and raises no hold and no warning', async () => {
    const { day, played, found } = await play(WISH);
    expect([...found]).toEqual([]);
    expect(played).toMatchObject({ duplicates: 0, rejected: 0, refused: 0, putAside: 0, surprises: [] });
    expect(played.cleared).toBe(day.boards.length);
    expect(day.boards.length).toBeGreaterThanOrEqual(12);
    const units = await Promise.all(day.boards.map((key) => house.call('GET', `/v1/units/${key}`)));
    expect(new Set(units.map(({ body }) => body['state']))).toEqual(new Set(['shipped']));
  }, 60_000);

  it('with one mistake of each kind gets exactly the holds, warnings and refusals that it should', async () => {
    const { compared, played } = await play({ ...WISH, run: 'B', hours: 5, mistakes: 'each' });
    expect(compared.mistakes.map(({ kind }) => kind)).toEqual(MISTAKE_KINDS);
    expect(compared.mistakes.filter(({ missing }) => missing.length > 0)).toEqual([]);
    expect(compared.unexpected).toEqual([]);
    expect(played.surprises).toEqual([]);
    expect(played).toMatchObject({ duplicates: 1, rejected: 0, refused: 2, putAside: 1 });
  }, 60_000);

  it('is played no faster than it is told to', async () => {
    const { seconds, played } = await play({ ...WISH, run: 'C', boards: 1 }, { rate: 10 });
    const acts = played.accepted + played.traces + played.cleared;
    expect(acts).toBeGreaterThan(10);
    expect(seconds).toBeGreaterThan((acts - 1) / 10 - 0.1);
  });

  it('is not posted into a book with boards of somebody else', async () => {
    const design = { ...DEMO_ASSEMBLIES['ZIB-PANEL-1'], customer: 'Thimblewick' };
    expect(await house.call('PUT', '/v1/assemblies/REAL-1', design)).toMatchObject({ status: 201 });
    await expect(play({ ...WISH, run: 'D' })).rejects.toThrow('REAL-1');
    const { body } = await house.call('GET', '/v1/units?limit=200');
    expect(JSON.stringify(body)).not.toContain('"D-0001"');
  });
});
