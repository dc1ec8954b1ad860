import { Heat } from '../domain/events/heat.js';
import { subjectKey } from '../domain/subject/subject.js';
import { cleans, comesIn, dresses, inspects, places, removes } from './board-steps.js';
import { MINUTE_MS } from './day-log.js';
import { Finding, MistakeKind } from './mistake.js';
import { finishes, Job, leaves, putsOn, replaces, takesOff } from './ordinary-work.js';
import { SimulatedBoard } from './simulated-board.js';

interface ToldMistake {
  readonly story: string;
  readonly expected: readonly Finding[];
}

type Teller = (board: SimulatedBoard, job: Job, waiting: () => SimulatedBoard) => ToldMistake;

function site({ assembly, serial }: SimulatedBoard, refdes: string): string {
  return subjectKey({ kind: 'site', assembly, serial, refdes });
}

const hold = (code: string, subject: string): Finding => ({ kind: 'hold', code, subject });
const warning = (code: string, subject: string): Finding => ({ kind: 'warning', code, subject });
const uncleared = ({ key }: SimulatedBoard): Finding => warning('clearance-required', key);

/** Of a board that stays at the house: whoever works it notices that something is wrong. */
function stops(board: SimulatedBoard): void {
  board.endsPlan();
  board.leavesBench();
}

/**
 * How each mistake is made, and what the book should say of it: all holds, warnings and refusals of the boards concerned.
 * @see docs/guide/simulator.md, which tells them to people
 */
export const MISTAKE_STORIES: Readonly<Record<MistakeKind, Teller>> = {
  'wrong-serial': (board, job, waiting) => {
    const other = waiting();
    comesIn(other, job.startMs);
    comesIn(board, job.startMs);
    board.asks();
    takesOff(board, job);
    places(board, job.refdes, {}, { subject: other.key });
    stops(board);
    return {
      story: `The placement on ${board.key} was posted for ${other.key}, which waits in the rack.`,
      expected: [hold('sequence-broken', site(other, job.refdes)), uncleared(other)],
    };
  },
  'wrong-site': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    removes(board, job.refdes);
    board.endsPlan();
    dresses(board, job.refdes, 'braid', { refdes: 'U99' });
    board.leavesBench();
    return {
      story: `The dressing of ${job.refdes} was posted for U99, which the board does not have.`,
      expected: [hold('event-parked', board.key)],
    };
  },
  'forgotten-bake': (board, job) => {
    comesIn(board, job.startMs, { bake: false });
    replaces(board, job);
    return {
      story: 'The board was never baked, and got hotter than 200 C.',
      expected: [warning('floor-life', board.key)],
    };
  },
  'posted-twice': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    const removal = removes(board, job.refdes);
    board.again(removal, 1);
    dresses(board, job.refdes, job.method);
    cleans(board, job.refdes);
    inspects(board, job.refdes, 'visual');
    putsOn(board, job);
    board.endsPlan();
    finishes(board, job);
    leaves(board);
    return {
      story: 'The station heard no answer to the removal and posted it once more, under its id.',
      expected: [{ kind: 'duplicate', code: removal.event.id, subject: board.key }],
    };
  },
  'posted-anew': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    const removal = removes(board, job.refdes);
    board.again(removal, 2, `${removal.event.id}:again`);
    stops(board);
    return {
      story: 'The station was started anew and posted the removal a second time, under another id.',
      expected: [hold('sequence-broken', site(board, job.refdes)), uncleared(board)],
    };
  },
  'late-post': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    takesOff(board, job);
    putsOn(board, job);
    board.endsPlan();
    finishes(board, job);
    const open = { result: 'fail' as const, defects: [{ code: 'open' as const, pads: ['C7'] }] };
    inspects(board, job.refdes, 'xray', open, { lateMinutes: 90 });
    leaves(board);
    return {
      story: 'A second x-ray found an open joint; it was posted only after the board had been shipped.',
      expected: [hold('late-event', board.key), hold('shipped-open', board.key)],
    };
  },
  'clock-off': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    removes(board, job.refdes);
    // Dated before the shift, and so before anything was cleared, however fast the day is played.
    const clockBehindMinutes = Math.ceil((board.nowMs - job.startMs) / MINUTE_MS) + 30;
    dresses(board, job.refdes, 'braid', {}, { clockBehindMinutes });
    stops(board);
    return {
      story: `The clock of the dressing bench was ${String(clockBehindMinutes)} minutes behind: the dressing is dated before the removal.`,
      expected: [hold('sequence-broken', site(board, job.refdes)), uncleared(board)],
    };
  },
  'uncleared-heat': (board, job) => {
    comesIn(board, job.startMs);
    takesOff(board, job);
    putsOn(board, job);
    finishes(board, job);
    leaves(board);
    return { story: 'The bench never asked for clearance.', expected: [uncleared(board)] };
  },
  'refused-and-obeyed': (board, job) => {
    comesIn(board, job.startMs, { priorReworks: 3 });
    board.asks('put-aside');
    removes(board, job.refdes);
    stops(board);
    return {
      story: 'A fourth rework of a site was asked for, refused, and not done.',
      expected: [{ kind: 'refusal', code: 'site-reworks', subject: board.key }],
    };
  },
  'refused-and-ignored': (board, job) => {
    comesIn(board, job.startMs, { priorReworks: 3 });
    board.asks('go-ahead');
    removes(board, job.refdes);
    stops(board);
    return {
      story: 'A fourth rework of a site was asked for, refused, and done all the same.',
      expected: [
        { kind: 'refusal', code: 'site-reworks', subject: board.key },
        hold('site-reworks', site(board, job.refdes)),
        uncleared(board),
      ],
    };
  },
  overheated: (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    takesOff(board, job);
    // A little over the window, from below: the package stays under the temperature of its class.
    places(board, job.refdes, isLeaded(board, job) ? { jointC: 222, bodyOverC: -4 } : { jointC: 247, bodyOverC: 1 });
    finishes(board, job);
    stops(board);
    return {
      story: 'The placement got the joint hotter than its profile allows.',
      expected: [hold('profile-window', site(board, job.refdes))],
    };
  },
  'mistyped-figure': (board, job) => {
    comesIn(board, job.startMs);
    board.asks();
    removes(board, job.refdes, { jointC: isLeaded(board, job) ? 206.2 : 235.2 }, swapDigits);
    stops(board);
    return {
      story: 'Two digits of the peak were swapped by hand: the figures do not fit the trace.',
      expected: [hold('summary-mismatch', site(board, job.refdes))],
    };
  },
  uninspected: (board, job) => {
    ordinaryUntilPlaced(board, job);
    leaves(board);
    return {
      story: 'The board was shipped before anybody had looked at the new joint.',
      expected: [hold('shipped-open', board.key)],
    };
  },
};

function ordinaryUntilPlaced(board: SimulatedBoard, job: Job): void {
  comesIn(board, job.startMs);
  board.asks();
  takesOff(board, job);
  putsOn(board, job);
  board.endsPlan();
  cleans(board, job.refdes);
}

function isLeaded(board: SimulatedBoard, { refdes }: Job): boolean {
  return board.design(refdes).part.endsWith('L');
}

/** The joint's peak with tens and units swapped: 235.4 becomes 253.4. */
function swapDigits(heat: Heat): Heat {
  const thermocouples = heat.thermocouples.map((reading) => {
    if (reading.position !== 'joint') return reading;
    return { ...reading, peakC: Number(reading.peakC.toFixed(1).replace(/(\d)(\d)\./, '$2$1.')) };
  });
  return { ...heat, thermocouples };
}
