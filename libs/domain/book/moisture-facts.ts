import { EventOf } from '../events/station-event.js';
import { parseStream } from '../subject/subject.js';
import { Judgement } from './judgement.js';

/** Keeps a bake; what it did for a package is read from the ledger with the package's part. */
export function baked(j: Judgement<EventOf<'heatbook.unit.baked.v1' | 'heatbook.device.baked.v1'>>): void {
  const { temperatureC, startedAt, endedAt, relativeHumidityPct, interruptedMinutes } = j.event.data;
  const bake = {
    of: parseStream(j.event.subject)?.kind === 'unit' ? 'unit' : 'device',
    temperatureC,
    startedAt,
    endedAt,
    ...(relativeHumidityPct !== undefined && { relativeHumidityPct: plausiblePct(relativeHumidityPct) }),
    ...(interruptedMinutes !== undefined && { interruptedMinutes }),
  } as const;
  j.emit({ kind: 'moisture', stream: j.event.subject, fact: { kind: 'baked', bake } });
}

/** Keeps where a subject lies from now on. Where an exposure ends, the storage named is where it goes. */
export function exposureChanged(
  j: Judgement<EventOf<'heatbook.exposure.started.v1' | 'heatbook.exposure.stopped.v1'>>,
): void {
  const { storage, ambientC, relativeHumidityPct } = j.event.data;
  const fact = {
    kind: 'exposed',
    at: j.event.time,
    storage,
    ...(ambientC !== undefined && { ambientC }),
    ...(relativeHumidityPct !== undefined && { relativeHumidityPct: plausiblePct(relativeHumidityPct) }),
  } as const;
  j.emit({ kind: 'moisture', stream: j.event.subject, fact });
}

/** Humidity sensors stray a little below nought in very dry air. */
function plausiblePct(pct: number): number {
  return Math.max(0, pct);
}
