import { Finding } from '../../../libs/simulator/mistake.js';
import { DayWish, simulateDay, SimulatedDay } from '../../../libs/simulator/simulate-day.js';
import { ServiceClient } from '../service/service-client.js';
import { bookFindings, untilFolded } from './book-findings.js';
import { compareDay, ComparedDay } from './compare-day.js';
import { enterSetup } from './enter-setup.js';
import { PatientClient } from './patient-client.js';
import { DayPlayer, Pace, PlayedDay } from './play-day.js';

/** A day, as it was played and as the book has it. */
export interface Simulation {
  readonly day: SimulatedDay;
  readonly played: PlayedDay;
  /** What the book says of each board that it says anything of. */
  readonly found: ReadonlyMap<string, readonly Finding[]>;
  readonly compared: ComparedDay;
  /** From the first act to the last answer, s. */
  readonly seconds: number;
}

/**
 * Plays an invented day against a service, as a load or to learn by, and looks what the book says of it.
 * @param now the clock by which the service grants clearances, ms; the shift begins at it, once the setup is entered
 * @throws ServiceRefused, RangeError as `simulateDay`
 */
export async function runSimulation(
  client: ServiceClient,
  wish: Omit<DayWish, 'startMs'>,
  pace: Pace,
  now: () => number,
  tell: (done: number, whole: number) => void = () => undefined,
): Promise<Simulation> {
  await enterSetup(client, simulateDay({ ...wish, startMs: 0, hours: 0 }).setup);
  const day = simulateDay({ ...wish, startMs: Math.ceil(now() / 1000) * 1000 });
  const patient = new PatientClient(client);
  const player = new DayPlayer(patient);
  const began = performance.now();
  await player.play(day.acts, pace, (done) => {
    tell(done, day.acts.length);
  });
  const seconds = (performance.now() - began) / 1000;
  await untilFolded(patient);
  const { played, findings } = player;
  const found = new Map<string, readonly Finding[]>();
  for (const board of day.boards) {
    const said = [...(findings.get(board) ?? []), ...(await bookFindings(client, board))];
    if (said.length > 0) found.set(board, said);
  }
  return { day, played, found, compared: compareDay(day, found), seconds };
}
