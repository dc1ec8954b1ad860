import { DressingMethod } from '../domain/events/station-event.js';
import { cleans, comesIn, dresses, harmlessVoids, inspects, places, removes, ships } from './board-steps.js';
import { SimulatedBoard } from './simulated-board.js';

/** What is to be done to a board. */
export interface Job {
  readonly refdes: string;
  readonly method: DressingMethod;
  /** When the shift begins, ms. */
  readonly startMs: number;
}

/** A board of which one device is replaced: every step asked for and done, nothing amiss. */
export function ordinaryWork(board: SimulatedBoard, job: Job): void {
  comesIn(board, job.startMs);
  replaces(board, job);
}

/** From the question to the parcel, of a board that has come in. */
export function replaces(board: SimulatedBoard, job: Job): void {
  board.asks();
  takesOff(board, job);
  putsOn(board, job);
  board.endsPlan();
  finishes(board, job);
  leaves(board);
}

/** Device off, site dressed, cleaned and looked at; a leaded site of a lead-free board is flushed and measured, too. */
export function takesOff(board: SimulatedBoard, { refdes, method }: Job): void {
  removes(board, refdes);
  if (isConverted(board, refdes)) {
    dresses(board, refdes, 'braid', { solderAlloy: 'Sn63Pb37' });
    dresses(board, refdes, 'fountain', { solderAlloy: 'SAC305' });
    inspects(board, refdes, 'xrf', { leadPct: board.random.figure(0.02, 0.05, 3) });
  } else {
    dresses(board, refdes, method);
  }
  cleans(board, refdes);
  inspects(board, refdes, 'visual');
}

function isConverted(board: SimulatedBoard, refdes: string): boolean {
  return board.design(refdes).jointAlloy === 'Sn63Pb37' && !board.design(refdes).part.endsWith('L');
}

export function putsOn(board: SimulatedBoard, { refdes }: Job): void {
  places(board, refdes);
}

/** What a joint is looked at for after its device went on. */
export function finishes(board: SimulatedBoard, { refdes }: Job): void {
  cleans(board, refdes);
  inspects(board, refdes, 'visual');
  inspects(board, refdes, 'xray', { voids: harmlessVoids(board) });
}

/** Bench work ends before the papers and the parcel. */
export function leaves(board: SimulatedBoard): void {
  board.leavesBench();
  ships(board);
}
