import { Gauge, Registry } from 'prom-client';
import { ReadLog } from '../../../libs/ledger/log/read-log.js';
import { NOTICE_KINDS } from '../../../libs/ledger/notices/notice.js';
import { Clock } from '../../../libs/ledger/ports/clock.js';
import { JobQueue } from '../../../libs/ledger/ports/job-queue.js';
import { NoticeStore } from '../../../libs/ledger/ports/notice-store.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { Part } from './timed-look.js';

export interface BookPartDeps {
  readonly reads: Pick<ReadStore, 'backlog' | 'holdSummary'>;
  readonly notices: Pick<NoticeStore, 'countOpen'>;
  readonly siteLog: Pick<ReadLog, 'state'>;
  readonly queue: Pick<JobQueue, 'waiting'>;
  readonly clock: Clock;
}

/** What the database and the queue are asked for: the same of every process. */
export function bookParts(deps: BookPartDeps, registry: Registry): readonly Part[] {
  return [intakePart(deps, registry), logPart(deps, registry), deskPart(deps, registry), queuePart(deps, registry)];
}

function intakePart({ reads, clock }: BookPartDeps, registry: Registry): Part {
  const gauge = gaugesOf(registry);
  const pending = gauge('heatbook_intake_pending', 'Events that wait to be folded.');
  const parked = gauge('heatbook_intake_parked', 'Events that the fold could not apply.');
  const oldest = gauge('heatbook_intake_oldest_pending_seconds', 'Age of the oldest waiting event.');
  return {
    name: 'intake',
    plain: [pending, parked, oldest],
    labelled: [],
    look: async () => {
      const backlog = await reads.backlog();
      return () => {
        pending.set(backlog.pending);
        parked.set(backlog.parked);
        oldest.set(ageSeconds(clock, backlog.oldestReceivedAt));
      };
    },
  };
}

function logPart({ siteLog, clock }: BookPartDeps, registry: Registry): Part {
  const gauge = gaugesOf(registry);
  const waiting = gauge('heatbook_log_waiting', 'Commits that have no place in the log yet.');
  const trouble = gauge('heatbook_log_trouble', 'Above 0: the log is not signed, or does not fit.');
  const unplaced = gauge('heatbook_log_oldest_unplaced_seconds', 'Age of the oldest entry without a place in the log.');
  const unsigned = gauge(
    'heatbook_log_oldest_unsigned_seconds',
    'Age of the oldest entry that no signed checkpoint covers; 0 where nothing was ever signed.',
  );
  return {
    name: 'log',
    plain: [waiting, trouble, unplaced, unsigned],
    labelled: [],
    look: async () => {
      const state = await siteLog.state();
      return () => {
        waiting.set(state.waiting);
        trouble.set(state.troubles.length);
        unplaced.set(ageSeconds(clock, state.unplacedSince));
        unsigned.set(ageSeconds(clock, state.unsignedSince));
      };
    },
  };
}

function deskPart({ reads, notices, clock }: BookPartDeps, registry: Registry): Part {
  const labelled = (name: string, help: string, label: string): Gauge =>
    new Gauge({ name, help, labelNames: [label], registers: [registry] });
  const holds = labelled('heatbook_holds_open', 'Open holds by reason.', 'reason');
  const open = labelled('heatbook_notices_open', 'Open notices by kind.', 'kind');
  return {
    name: 'desk',
    plain: [],
    labelled: [holds, open],
    look: async () => {
      const [summary, counts] = await Promise.all([
        reads.holdSummary({ state: 'open' }, clock.now()),
        notices.countOpen(),
      ]);
      return () => {
        holds.reset();
        for (const [reason, count] of Object.entries(summary.byReason)) holds.set({ reason }, count);
        for (const kind of NOTICE_KINDS) open.set({ kind }, counts[kind] ?? 0);
      };
    },
  };
}

function queuePart({ queue }: BookPartDeps, registry: Registry): Part {
  const jobs = gaugesOf(registry)('heatbook_queue_jobs_waiting', 'Wake-ups that no worker has taken.');
  return {
    name: 'queue',
    plain: [jobs],
    labelled: [],
    look: async () => {
      const waiting = await queue.waiting();
      return () => {
        jobs.set(waiting);
      };
    },
  };
}

function gaugesOf(registry: Registry): (name: string, help: string) => Gauge {
  return (name, help) => new Gauge({ name, help, registers: [registry] });
}

function ageSeconds(clock: Clock, since: string | null): number {
  return since === null ? 0 : Math.max(0, (Date.parse(clock.now()) - Date.parse(since)) / 1000);
}
