import { SAFE_NAME_PATTERN } from '../../../libs/ledger/intake/field-schemas.js';

const SAFE_NAME = new RegExp(SAFE_NAME_PATTERN);

/** Where stations publish their events, as MQTT's filters write it: one topic for each, which the broker's list of rights is about. */
const EVENTS = 'heatbook/stations/+/events';

/** Processes with this subscription share the messages among them: each message goes to one (MQTT 5, 4.8.2). */
export const EVENTS_SUBSCRIPTION = `$share/heatbook/${EVENTS}`;

/** A topic of a station with the name of the station left open, as AsyncAPI writes it. */
export const STATION_TOPICS = {
  events: 'heatbook/stations/{station}/events',
  answers: 'heatbook/stations/{station}/answers',
  refused: 'heatbook/stations/{station}/refused',
} as const;

/** The station whose topic for events this is; undefined for any other topic, and for a name that no station can have. */
export function stationOf(topic: string): string | undefined {
  const station = /^heatbook\/stations\/([^/]+)\/events$/.exec(topic)?.[1];
  return station !== undefined && SAFE_NAME.test(station) ? station : undefined;
}

/** Where the messages of a station go that were refused, in whole or in part. */
export function refusedTopic(station: string): string {
  return STATION_TOPICS.refused.replace('{station}', station);
}

/**
 * Where a station is answered: the topic that it asks for (MQTT 5, response topic) if that is its topic for answers or below
 * that, else its topic for answers. Elsewhere the service would write, with its rights, what the station may not.
 */
export function answerTopic(station: string, wanted?: string): string {
  const own = STATION_TOPICS.answers.replace('{station}', station);
  return wanted !== undefined && wanted.startsWith(`${own}/`) && !/[+#\0]/.test(wanted) ? wanted : own;
}
