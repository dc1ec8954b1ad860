import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import { FoldRound } from '../../libs/ledger/fold/fold-desk.js';
import { forEachTimer, TimerName, TIMER_NAMES } from '../../libs/ledger/ports/job-queue.js';
import { FigureSource } from '../house/metrics/figures.js';
import { TimerNotes } from './timer-watch.js';

/** What a worker counts: how it folds, and when its timers last did their work. */
export class WorkerFigures implements FigureSource, TimerNotes {
  private readonly folds: Histogram;
  private readonly failures: Counter;
  private readonly events: Counter<'state'>;
  private readonly timerFailures: Counter<'timer'>;
  private readonly quiet: Gauge<'timer'>;
  private readonly doneAtMs: Record<TimerName, number>;

  /** @param nowMs a clock that only goes forward */
  constructor(
    registry: Registry,
    private readonly nowMs: () => number,
  ) {
    const registers = [registry];
    this.folds = new Histogram({
      name: 'heatbook_fold_seconds',
      help: 'Duration of folds that were committed.',
      buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
      registers,
    });
    this.failures = new Counter({
      name: 'heatbook_fold_failures_total',
      help: 'Folds that came to nothing; what they were to fold is tried again.',
      registers,
    });
    this.events = new Counter({
      name: 'heatbook_events_folded_total',
      help: 'Events by what became of them in the fold.',
      labelNames: ['state'],
      registers,
    });
    this.timerFailures = new Counter({
      name: 'heatbook_timer_failures_total',
      help: 'Runs of timers that failed; the next one comes in its time.',
      labelNames: ['timer'],
      registers,
    });
    this.quiet = new Gauge({
      name: 'heatbook_timer_quiet_seconds',
      help: 'Since a timer last did its work in this process, or since the start. With several workers the least counts.',
      labelNames: ['timer'],
      registers,
    });
    for (const state of ['applied', 'parked', 'postponed']) this.events.inc({ state }, 0);
    for (const timer of TIMER_NAMES) this.timerFailures.inc({ timer }, 0);
    this.doneAtMs = forEachTimer(() => nowMs());
  }

  countFold({ folded, parked, postponed, sinceMs }: FoldRound): void {
    this.folds.observe(Math.max(0, Date.now() - sinceMs) / 1000);
    this.events.inc({ state: 'applied' }, folded - parked - postponed);
    if (parked > 0) this.events.inc({ state: 'parked' }, parked);
    if (postponed > 0) this.events.inc({ state: 'postponed' }, postponed);
  }

  countFailure(): void {
    this.failures.inc();
  }

  done(timer: TimerName): void {
    this.doneAtMs[timer] = this.nowMs();
  }

  failed(timer: TimerName): void {
    this.timerFailures.inc({ timer });
  }

  refresh(): Promise<void> {
    for (const timer of TIMER_NAMES) this.quiet.set({ timer }, (this.nowMs() - this.doneAtMs[timer]) / 1000);
    return Promise.resolve();
  }
}
