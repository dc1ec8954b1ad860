import { BadEvent } from '../errors.js';
import { EventFault } from '../event-fault.js';
import { checkEvent } from '../events/check-event.js';
import { MOST_BODY_BYTES } from './send-batch.js';

/** What an event must have to be told from others and kept in order. */
const NEEDED = ['source', 'id', 'type', 'subject'];

/**
 * Events as JSON, one line each.
 * @param isChecked whether they are held against the schemas of their types
 * @throws BadEvent for the first that cannot be posted
 */
export function toJsons(events: readonly object[], isChecked: boolean): string[] {
  return events.map((event, index) => {
    const faults = isChecked ? checkEvent(event) : leastFaults(event);
    if (faults.length > 0) throw new BadEvent(faults, index);
    const json = JSON.stringify(event);
    const bytes = Buffer.byteLength(json) + 2;
    if (bytes > MOST_BODY_BYTES) {
      const detail = `It is ${String(bytes)} bytes long, and Heatbook takes ${String(MOST_BODY_BYTES)}.`;
      throw new BadEvent([{ pointer: '', detail }], index);
    }
    return json;
  });
}

function leastFaults(event: object): EventFault[] {
  const members = event as Readonly<Record<string, unknown>>;
  return NEEDED.filter((name) => typeof members[name] !== 'string').map((name) => ({
    pointer: `/${name}`,
    detail: `The member "${name}" is missing, or is no text.`,
  }));
}
