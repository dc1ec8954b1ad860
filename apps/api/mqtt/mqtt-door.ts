import { isUtf8 } from 'node:buffer';
import { AcceptedEvents } from '../../../libs/ledger/intake/accept-events.js';
import { EVENT_MEDIA_TYPES, eventForm, readEvents } from '../../../libs/ledger/intake/event-form.js';
import { intakeProblem } from '../../../libs/ledger/intake/problems.js';
import { Reading } from '../../../libs/ledger/intake/read-events.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { EVENTS_BODY_BYTES } from '../http/server-limits.js';
import { IntakeDesk } from '../intake/intake-desk.js';
import { ApiMetrics } from '../metrics/api-metrics.js';
import { answerTopic, refusedTopic, stationOf } from './station-topics.js';

/** What came from the broker. The optional members are properties of MQTT 5. */
export interface MqttMessage {
  readonly topic: string;
  readonly payload: Buffer;
  readonly contentType?: string | undefined;
  readonly responseTopic?: string | undefined;
  readonly correlationData?: Buffer | undefined;
}

/** What is to be published for a message before it is acknowledged. */
export interface MqttReply extends Pick<MqttMessage, 'topic' | 'correlationData'> {
  readonly payload: string | Buffer;
  readonly contentType: string | undefined;
}

interface DoorDeps {
  readonly desk: Pick<IntakeDesk, 'take'>;
  readonly metrics: Pick<ApiMetrics, 'countMessage' | 'countEvents'>;
  readonly log: Pick<Log, 'warn'>;
}

/** Takes in what stations publish, as POST /v1/events does what they post: the topic says which station speaks. */
export class MqttDoor {
  constructor(private readonly deps: DoorDeps) {}

  /**
   * Takes a message in and says what to publish for it, once everything accepted is durable.
   * @throws what the intake throws; the message must then come again
   */
  async take(message: MqttMessage): Promise<readonly MqttReply[]> {
    const { topic, payload, correlationData } = message;
    const station = stationOf(topic);
    if (station === undefined) {
      // Nobody can be answered: there is no station of that name.
      this.deps.metrics.countMessage('refused');
      this.deps.log.warn('A message came on a topic that is of no station.', { topic, bytes: payload.length });
      return [];
    }
    const answer = await this.answer(station, message);
    this.deps.metrics.countMessage(answer.rejected === 0 ? 'taken' : 'refused');
    const body = JSON.stringify(answer);
    const to = answerTopic(station, message.responseTopic);
    const reply: MqttReply = { topic: to, payload: body, correlationData, contentType: 'application/json' };
    if (answer.rejected === 0) return [reply];
    this.tell(station, message, answer);
    // Once it is acknowledged the broker has it no more, and whoever sent it may not listen.
    return [reply, { topic: refusedTopic(station), payload, correlationData, contentType: message.contentType }];
  }

  private async answer(station: string, message: MqttMessage): Promise<AcceptedEvents> {
    const reading = readMessage(message);
    if (reading.ok) {
      return this.deps.desk.take(reading.items, {
        maySpeakFor: (source) => source === `/stations/${station}`,
        words: { who: `The topic of ${station}`, instead: 'Publish the event on the topic of that station' },
      });
    }
    // One form of answer, whatever is wrong: an item without an id stands for the message.
    const { problem } = reading;
    const answer = {
      accepted: 0,
      duplicates: 0,
      rejected: 1,
      items: [{ id: null, state: 'rejected' as const, problem }],
    };
    this.deps.metrics.countEvents(answer);
    return answer;
  }

  /** What is wrong goes into the log without values, which may be of people and customers. */
  private tell(station: string, { payload }: MqttMessage, { rejected, items }: AcceptedEvents): void {
    const problems = items.flatMap((item) => (item.state === 'rejected' ? [item.problem] : []));
    this.deps.log.warn('A message of a station was refused, in whole or in part.', {
      ...{ station, bytes: payload.length, rejected },
      problems: [...new Set(problems.map(({ type }) => type.slice(type.lastIndexOf(':') + 1)))],
      pointers: [...new Set(problems.flatMap(({ errors }) => errors.map(({ pointer }) => pointer)))].slice(0, 5),
    });
  }
}

function readMessage({ payload, contentType = 'application/json' }: MqttMessage): Reading {
  if (payload.length > EVENTS_BODY_BYTES) {
    const detail = `The message has ${payload.length} bytes; send at most ${EVENTS_BODY_BYTES} at a time.`;
    return { ok: false, problem: intakeProblem('too-large', detail) };
  }
  if (!isUtf8(payload)) {
    return { ok: false, problem: intakeProblem('unreadable-json', 'The message is not UTF-8; send it encoded so.') };
  }
  const text = payload.toString('utf8');
  const form = eventForm(contentType, text);
  if (form !== undefined) return readEvents(form, text);
  const detail = `Send events whole, under content type ${[...EVENT_MEDIA_TYPES, 'application/json'].join(', ')}, or under none.`;
  return { ok: false, problem: intakeProblem('unknown-media-type', detail) };
}
