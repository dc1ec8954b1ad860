import { EventOf } from '../events/station-event.js';
import { Judgement } from './judgement.js';
import { MoistureFacts } from './state.js';

/** Keeps a bake; how far it dried the packages is judged from what is kept. */
export function baked(
  j: Judgement<EventOf<'heatbook.unit.baked.v1' | 'heatbook.device.baked.v1'>>,
  known: MoistureFacts,
): void {
  const { temperatureC, startedAt, endedAt, interruptedMinutes = 0 } = j.event.data;
  const lastBake = { temperatureC, startedAt, endedAt, interruptedMinutes };
  j.emit({ kind: 'moisture', stream: j.event.subject, facts: { ...known, state: 'baked', since: endedAt, lastBake } });
}

/** Keeps where a subject lies from now on. Where an exposure ends, the storage named is where it goes. */
export function exposureChanged(
  j: Judgement<EventOf<'heatbook.exposure.started.v1' | 'heatbook.exposure.stopped.v1'>>,
  known: MoistureFacts,
): void {
  const { storage, ambientC = null, relativeHumidityPct = null } = j.event.data;
  const facts = { ...known, state: storage, since: j.event.time, ambientC, relativeHumidityPct };
  j.emit({ kind: 'moisture', stream: j.event.subject, facts });
}
