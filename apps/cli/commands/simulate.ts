import { writeFile } from 'node:fs/promises';
import { loadConfig } from '../../../libs/config/load-config.js';
import { ProgressLine } from '../service/progress-line.js';
import { isBrokenOff, ServiceClient, ServiceRefused } from '../service/service-client.js';
import { dayInWords, mistakesInWords } from '../simulate/day-in-words.js';
import { runSimulation, Simulation } from '../simulate/run-simulation.js';

export interface SimulateOptions {
  readonly stations: number;
  readonly hours: number;
  readonly boards?: number;
  readonly seed: number;
  readonly speed?: number;
  readonly rate?: number;
  readonly mistakes: number | 'each';
  readonly traced: number;
  /** File for the planted mistakes, in place of the terminal. */
  readonly answers?: string;
  readonly json?: boolean;
}

/** When runs began to be counted: serials stay short so. */
const EPOCH_MS = Date.UTC(2026, 0, 1);

/**
 * Plays an invented day against HEATBOOK_URL and compares what the book says with what was planted.
 * @returns the exit code: 0 the book says what it should, 1 it does not, 2 it could not be played
 */
export async function simulate(options: SimulateOptions): Promise<number> {
  const { client: at } = loadConfig();
  const { seed, speed, rate, answers, json, ...wish } = options;
  const progress = new ProgressLine(process.stderr);
  try {
    const run = `S${String(seed)}-${Math.floor((Date.now() - EPOCH_MS) / 1000).toString(36)}`;
    const client = new ServiceClient(at.url, at.key);
    const simulation = await runSimulation(client, { ...wish, seed, run }, { speed, rate }, Date.now, (done, whole) => {
      progress.tell('done', done, whole);
    });
    progress.end();
    await print(simulation, { answers, json });
    const { compared, played } = simulation;
    const fits = compared.unexpected.length + played.surprises.length === 0;
    return fits && compared.mistakes.every(({ missing }) => missing.length === 0) ? 0 : 1;
  } catch (error) {
    progress.end();
    if (isBrokenOff(error)) {
      process.stderr.write(`${at.url} does not answer: set HEATBOOK_URL, or start it with "heatbook run".\n`);
      return 2;
    }
    if (!(error instanceof ServiceRefused || error instanceof RangeError)) throw error;
    process.stderr.write(`${error.message}\n`);
    return 2;
  }
}

async function print(
  { day, played, found, compared, seconds }: Simulation,
  { answers, json }: { readonly answers: string | undefined; readonly json: boolean | undefined },
): Promise<void> {
  if (json === true) {
    const said = Object.fromEntries(found);
    process.stdout.write(`${JSON.stringify({ seconds, boards: day.boards, ...played, said, ...compared }, null, 2)}\n`);
    return;
  }
  process.stdout.write(`${dayInWords(played, found, day.boards, seconds)}\n`);
  const mistakes = `${mistakesInWords(compared)}\n`;
  if (answers === undefined) process.stdout.write(mistakes);
  else {
    await writeFile(answers, mistakes);
    process.stdout.write(`What went wrong, and where, is in ${answers}: look in the book first.\n`);
  }
}
