import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { BookHarness } from './book-harness.js';
import { envelope } from './gate-events.js';
import { Operation } from './gate-operation.js';
import { GatePlay } from './gate-play.js';
import { enterGateShop, openingEvents } from './gate-shop.js';
import { HandClock } from './hand-clock.js';
import { logDepsOf } from './log-bench.js';
import { UNMEASURED, Step } from '../reference/gate-words.js';

const PAUSE_MS = 60_000;

/** @param names the clearance that it names, counted from the newest */
function said(subject: string, doing: Step, names: number | null = null): Operation {
  return { op: 'tell', subject, doing, names, minutesAgo: 0, minutesHot: 0, measured: UNMEASURED, sensible: false };
}

const profile = 'HOT';
const removal = (site: 'U1' | 'U2'): Step => ({ kind: 'removal', site, fate: 'scrap', profile });
const placement = (device: 'N1' | 'N2'): Step => ({ kind: 'placement', site: 'U1', device, profile });

const OPERATIONS: readonly Operation[] = [
  said('PAIR/2', removal('U1')),
  said('PAIR/1', removal('U2')),
  {
    op: 'ask',
    wish: { subject: 'PAIR/2', steps: [placement('N1')], station: 'BENCH', operator: 'op', ttlMinutes: 30 },
    before: null,
    sensible: false,
  },
  said('PAIR/2', placement('N1'), 0),
  // On top of what is there: a sequence that cannot be.
  said('PAIR/2', placement('N2')),
  said('PAIR/1', removal('U1')),
  { op: 'hold', subject: 'PAIR/1', by: 'cy' },
  { op: 'hold', subject: 'PAIR/2', by: 'cy' },
  { op: 'decide', which: 0, decision: 'use-as-is', by: 'bea' },
  { op: 'release', which: 0, by: 'ann' },
  { op: 'annul', which: 0 },
];

/** A small book in which everything has happened that a recount looks at, with one event parked and one still pending. */
export async function makeEventful(book: BookHarness, clock: HandClock): Promise<void> {
  await enterGateShop(book.setupStore);
  await book.post([...openingEvents(clock.now())]);
  await book.fold();
  const play = new GatePlay(book, clock);
  for (const operation of OPERATIONS) {
    clock.pass(PAUSE_MS);
    await play.play(operation);
  }
  const type = 'heatbook.unit.received.v1';
  await book.post([envelope({ type, subject: 'UNHEARD/1', id: 'parked', time: clock.now(), data: {} })]);
  await book.fold();
  await sequenceLog(logDepsOf(book));
  await book.post([envelope({ type, subject: 'PAIR/1', id: 'pending', time: clock.now(), data: {} })]);
}
