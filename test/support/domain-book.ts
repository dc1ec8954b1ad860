import { applyEvent, Outcome } from '../../libs/domain/book/apply-event.js';
import { Effect } from '../../libs/domain/book/effect.js';
import { DeviceState, emptyWorld, SiteState, UnitState, World } from '../../libs/domain/book/state.js';
import { Tally, usedOf } from '../../libs/domain/book/tally.js';
import { compareOrder } from '../../libs/domain/events/event-order.js';
import { Cause } from '../../libs/domain/holds/cause.js';
import { Rules } from '../../libs/domain/setup/setup-data.js';
import { subjectKey } from '../../libs/domain/subject/subject.js';
import { Draft, eventOf } from './domain-events.js';
import { rulesOf } from './domain-rules.js';

/** What the book says after the events were folded in the order in which they happened. */
export class ToldBook {
  readonly outcomes: Outcome[] = [];

  constructor(readonly world: World = emptyWorld()) {}

  tell(drafts: readonly Draft[], rules: Rules): this {
    for (const event of drafts.map(eventOf).sort((a, b) => compareOrder(a.order, b.order))) {
      this.outcomes.push(applyEvent(this.world, event, rules));
    }
    return this;
  }

  /** Effects of all events, or of the one that happened at this place (negative: from the end). */
  effects(place?: number): readonly Effect[] {
    const chosen = place === undefined ? this.outcomes : [this.outcomes.at(place)];
    return chosen.flatMap((outcome) => (outcome?.state === 'applied' ? outcome.effects : []));
  }

  /** Every hold that was called for, once each, as `reason subject`. */
  holds(): string[] {
    return [...new Set(this.world.causes.map(({ reason, subject }) => `${reason} ${subjectKey(subject)}`))].sort();
  }

  causes(reason: string): readonly Cause[] {
    return this.world.causes.filter((cause) => cause.reason === reason);
  }

  /** Every warning on record, as `code subject`. */
  warnings(): string[] {
    const all = [...this.world.units.values(), ...this.world.devices.values()].flatMap(({ warnings }) => warnings);
    return all.map(({ code, subject }) => `${code} ${subjectKey(subject)}`).sort();
  }

  unit(key = 'BRD/0001'): UnitState {
    return known(this.world.units.get(key), key);
  }

  site(refdes: string, unit = 'BRD/0001'): SiteState {
    return known(this.unit(unit).sites[refdes], refdes);
  }

  device(name: string): DeviceState {
    return known(this.world.devices.get(name), name);
  }

  /** Excursions of a device: used, and where there are any, possible. */
  spent(name: string): number {
    return usedOf(this.device(name).excursions);
  }

  /** Where a device is: `{unit}#{refdes}`, or what became of it. */
  where(name: string): string {
    const { place, status } = this.device(name);
    return place === null ? status : `${place.assembly}/${place.serial}#${place.refdes}`;
  }
}

function known<T>(value: T | undefined, name: string): T {
  if (value === undefined) throw new Error(`${name} is not in the book`);
  return value;
}

/** Given these facts, under these rules: the book. Events are folded in the order in which they happened. */
export function book(drafts: readonly Draft[], rules: Rules = rulesOf()): ToldBook {
  return new ToldBook().tell(drafts, rules);
}

/** Figures of one tally that a reader looks at. */
export function figures(tally: Tally): { used: number; possible: number } {
  return { used: usedOf(tally), possible: tally.possible.length };
}

/** Grounds of what was counted, in order. */
export function bases(tally: Tally): string[] {
  return tally.counted.map(({ basis }) => basis);
}
