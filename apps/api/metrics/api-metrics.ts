import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import { AcceptedEvents } from '../../../libs/ledger/intake/accept-events.js';
import { Clock } from '../../../libs/ledger/ports/clock.js';
import { NOTICE_KINDS } from '../../../libs/ledger/notices/notice.js';
import { NoticeStore } from '../../../libs/ledger/ports/notice-store.js';
import { ReadLog } from '../../../libs/ledger/log/read-log.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { RequestFacts } from '../http/request-log.js';

/** What the service counts, in Prometheus' terms. Labels name routes, states and reasons, never units or customers. */
export class ApiMetrics {
  private readonly registry = new Registry();
  private readonly requests = new Histogram({
    name: 'heatbook_http_request_seconds',
    help: 'Duration of HTTP requests.',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
    registers: [this.registry],
  });
  private readonly events = new Counter({
    name: 'heatbook_events_total',
    help: 'Station events by what became of them at the door.',
    labelNames: ['state'],
    registers: [this.registry],
  });
  private readonly messages = new Counter({
    name: 'heatbook_mqtt_messages_total',
    help: 'Messages of the MQTT broker: taken in, refused in whole or in part, or left unacknowledged to come again.',
    labelNames: ['outcome'],
    registers: [this.registry],
  });
  private readonly droppedRecords = new Counter({
    name: 'heatbook_access_records_dropped_total',
    help: 'Lines of the access record that were lost, since the database did not take them.',
    registers: [this.registry],
  });
  private readonly pending = this.gauge('heatbook_intake_pending', 'Events that wait to be folded.');
  private readonly parked = this.gauge('heatbook_intake_parked', 'Events that the fold could not apply.');
  private readonly oldest = this.gauge('heatbook_intake_oldest_pending_seconds', 'Age of the oldest waiting event.');
  private readonly logWaiting = this.gauge('heatbook_log_waiting', 'Commits that have no place in the log yet.');
  private readonly logTrouble = this.gauge('heatbook_log_trouble', 'Above 0: the log is not signed, or does not fit.');
  private readonly listeners = this.gauge('heatbook_stream_listeners', 'Open event streams of this process.');
  private readonly broker = this.gauge('heatbook_mqtt_connected', '1: this process takes events from the MQTT broker.');
  private readonly openHolds = new Gauge({
    name: 'heatbook_holds_open',
    help: 'Open holds by reason.',
    labelNames: ['reason'],
    registers: [this.registry],
  });

  private readonly openNotices = new Gauge({
    name: 'heatbook_notices_open',
    help: 'Open notices by kind.',
    labelNames: ['kind'],
    registers: [this.registry],
  });

  constructor(
    private readonly reads: Pick<ReadStore, 'backlog' | 'holdSummary'>,
    private readonly notices: Pick<NoticeStore, 'countOpen'>,
    private readonly siteLog: Pick<ReadLog, 'state'>,
    private readonly clock: Clock,
  ) {
    // A series that is not there yet cannot be told from one that stands at nought.
    for (const state of ['accepted', 'duplicate', 'rejected']) this.events.inc({ state }, 0);
    for (const outcome of ['taken', 'refused', 'returned']) this.messages.inc({ outcome }, 0);
  }

  get contentType(): string {
    return this.registry.contentType;
  }

  countRequest({ method, route, status, seconds }: RequestFacts): void {
    this.requests.observe({ method, route, status }, seconds);
  }

  countEvents({ accepted, duplicates, rejected }: AcceptedEvents): void {
    if (accepted > 0) this.events.inc({ state: 'accepted' }, accepted);
    if (duplicates > 0) this.events.inc({ state: 'duplicate' }, duplicates);
    if (rejected > 0) this.events.inc({ state: 'rejected' }, rejected);
  }

  countMessage(outcome: 'taken' | 'refused' | 'returned'): void {
    this.messages.inc({ outcome });
  }

  setBrokerConnected(isConnected: boolean): void {
    this.broker.set(isConnected ? 1 : 0);
  }

  countDroppedRecords(records: number): void {
    this.droppedRecords.inc(records);
  }

  setListeners(count: number): void {
    this.listeners.set(count);
  }

  /** Prometheus text, with what the database says at this moment. */
  async text(): Promise<string> {
    const now = this.clock.now();
    const [backlog, summary, notices, log] = await Promise.all([
      this.reads.backlog(),
      this.reads.holdSummary({ state: 'open' }, now),
      this.notices.countOpen(),
      this.siteLog.state(),
    ]);
    const { oldestReceivedAt } = backlog;
    const ageMs = oldestReceivedAt === null ? 0 : Date.parse(now) - Date.parse(oldestReceivedAt);
    this.pending.set(backlog.pending);
    this.parked.set(backlog.parked);
    this.oldest.set(Math.max(0, ageMs / 1000));
    this.logWaiting.set(log.waiting);
    this.logTrouble.set(log.troubles.length);
    this.openHolds.reset();
    for (const [reason, count] of Object.entries(summary.byReason)) this.openHolds.set({ reason }, count);
    for (const kind of NOTICE_KINDS) this.openNotices.set({ kind }, notices[kind] ?? 0);
    return this.registry.metrics();
  }

  private gauge(name: string, help: string): Gauge {
    return new Gauge({ name, help, registers: [this.registry] });
  }
}
