import { Effect } from '../../domain/book/effect.js';
import { StreamKey, unitKey } from '../../domain/subject/subject.js';
import { Interval } from './suspect-cause.js';

/** A fact with what was judged of it, as far as it tells where devices are. */
export interface DeviceFact<E> {
  /** Normalised UTC to the microsecond. */
  readonly at: string;
  readonly effects: readonly Effect[];
  /** The entry that tells of it. */
  readonly entry: E;
}

/** How long a device sat on a unit. */
export interface Stay<E> {
  readonly device: string;
  readonly unit: StreamKey;
  readonly since: string;
  /** When it came off; null while it sits there. */
  until: string | null;
  /** The entry by which it came there. */
  readonly entry: E;
}

/**
 * Where devices sat and how long, as facts tell. A device that a unit was built with sits there from the first fact of the
 * unit on; what it was called before its label was read goes under the name on the label.
 * @param facts of every unit concerned, in the order in which they happened, annulled ones left out
 */
export function staysOf<E>(facts: readonly DeviceFact<E>[]): readonly Stay<E>[] {
  const closed: Stay<E>[] = [];
  const open = new Map<string, Stay<E>>();
  const close = (device: string, at: string): void => {
    const stay = open.get(device);
    if (stay === undefined) return;
    stay.until = at;
    closed.push(stay);
    open.delete(device);
  };
  const sit = (device: string, unit: StreamKey, { at, entry }: DeviceFact<E>): void => {
    close(device, at);
    open.set(device, { device, unit, since: at, until: null, entry });
  };
  for (const fact of facts) {
    for (const effect of fact.effects) {
      if (effect.kind === 'device-opened' && effect.place !== null) {
        sit(effect.device, unitKey(effect.place.assembly, effect.place.serial), fact);
      } else if (effect.kind === 'mounted') {
        sit(effect.device, unitKey(effect.place.assembly, effect.place.serial), fact);
      } else if (effect.kind === 'unmounted') {
        if (open.get(effect.device)?.unit === effect.unit) close(effect.device, fact.at);
      } else if (effect.kind === 'device-status') {
        close(effect.device, fact.at);
      } else if (effect.kind === 'device-named') {
        const stay = open.get(effect.formerly);
        open.delete(effect.formerly);
        if (stay !== undefined) open.set(effect.device, { ...stay, device: effect.device });
      }
    }
  }
  return [...closed, ...open.values()];
}

/** Whether a device sat there at some moment of an interval. */
export function overlaps({ since, until }: Pick<Stay<unknown>, 'since' | 'until'>, { from, to }: Interval): boolean {
  return since < to && (until === null || until > from);
}

/** Whether a device sat there at a moment, its coming and going included. */
export function satThen({ since, until }: Pick<Stay<unknown>, 'since' | 'until'>, at: string): boolean {
  return since <= at && (until === null || at <= until);
}
