import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import { AcceptedEvents } from '../../../libs/ledger/intake/accept-events.js';
import { EVENTS_PATH } from '../http/body-parsers.js';
import { RequestFacts } from '../http/request-log.js';

/** What the api counts. Labels name routes, states and reasons, never units or customers. */
export class ApiMetrics {
  readonly registry = new Registry();
  private readonly requests: Histogram<'method' | 'route' | 'status'>;
  private readonly events: Counter<'state'>;
  private readonly rejected: Counter<'cause'>;
  private readonly refused: Counter<'cause'>;
  private readonly messages: Counter<'outcome'>;
  private readonly droppedRecords: Counter;
  private readonly listeners: Gauge;
  private readonly broker: Gauge;

  constructor() {
    const registers = [this.registry];
    this.requests = new Histogram({
      name: 'heatbook_http_request_seconds',
      help: 'Duration of HTTP requests.',
      labelNames: ['method', 'route', 'status'],
      buckets: [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
      registers,
    });
    const counter = <T extends string>(name: string, help: string, ...labelNames: T[]): Counter<T> =>
      new Counter({ name, help, labelNames, registers });
    this.events = counter('heatbook_events_total', 'Station events by what became of them at the door.', 'state');
    this.rejected = counter('heatbook_events_rejected_total', 'Station events that were rejected, by why.', 'cause');
    this.refused = counter(
      'heatbook_intake_refused_total',
      'Requests to post events that were refused as a whole, by the code of the problem.',
      'cause',
    );
    this.messages = counter(
      'heatbook_mqtt_messages_total',
      'Messages of the MQTT broker: taken in, refused in whole or in part, or left unacknowledged to come again.',
      'outcome',
    );
    this.droppedRecords = counter(
      'heatbook_access_records_dropped_total',
      'Lines of the access record that were lost, since the database did not take them.',
    );
    this.listeners = new Gauge({
      name: 'heatbook_stream_listeners',
      help: 'Open event streams of this process.',
      registers,
    });
    this.broker = new Gauge({
      name: 'heatbook_mqtt_connected',
      help: '1: this process takes events from the MQTT broker.',
      registers,
    });
    // A series that is not there yet cannot be told from one that stands at nought, nor can its first step be seen.
    for (const state of ['accepted', 'duplicate', 'rejected']) this.events.inc({ state }, 0);
    for (const outcome of ['taken', 'refused', 'returned']) this.messages.inc({ outcome }, 0);
    for (const cause of ['inbox-full', 'backlog-full', 'unavailable', 'internal']) this.refused.inc({ cause }, 0);
  }

  countRequest({ method, route, status, seconds }: RequestFacts, problemCode: string | null = null): void {
    this.requests.observe({ method, route, status }, seconds);
    if (status >= 400 && method === 'POST' && route === EVENTS_PATH) this.refused.inc({ cause: problemCode ?? 'none' });
  }

  countEvents({ accepted, duplicates, rejected, items }: AcceptedEvents): void {
    if (accepted > 0) this.events.inc({ state: 'accepted' }, accepted);
    if (duplicates > 0) this.events.inc({ state: 'duplicate' }, duplicates);
    if (rejected === 0) return;
    this.events.inc({ state: 'rejected' }, rejected);
    for (const item of items) {
      if (item.state === 'rejected') this.rejected.inc({ cause: codeOf(item.problem.type) });
    }
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
}

function codeOf(problemType: string): string {
  return problemType.slice(problemType.lastIndexOf(':') + 1);
}
