import {
  DEVICES,
  deviceSubject,
  Measured,
  Move,
  Profile,
  REFDES,
  Refdes,
  siteSubject,
  Spend,
  Step,
  UNITS,
} from './gate-words.js';

/** What one step or move does, by the tables of the guide to counting. */
export interface Deed {
  readonly spends: readonly Spend[];
  /** What does not go together: a hold by its reason, and on what. */
  readonly contradictions: readonly { readonly reason: string; readonly subject: string }[];
}

interface LocalHeat {
  readonly site: Refdes;
  readonly profile: Profile;
  readonly measured: Measured;
  /** Whether the device on the site counts where nobody measured. */
  readonly heatsDevice: boolean;
  readonly spreads: boolean;
  readonly toScrap: boolean;
}

/** Where everything is: the boards say what they carry, the devices where they are, and the two may contradict each other. */
export class NaiveBench {
  readonly carried = new Map<string, string | null>();
  readonly places = new Map<string, string>();
  readonly gone = new Set<string>();

  constructor() {
    for (const [device, { from }] of Object.entries(DEVICES)) {
      this.places.set(device, from);
      if (from !== 'loose') this.carried.set(from, device);
    }
  }

  /** The device that a site carries, where the device's own record has it there too. */
  deviceAt(site: string): string | null {
    const device = this.carried.get(site) ?? null;
    return device !== null && this.places.get(device) === site ? device : null;
  }

  /** Lets it happen. */
  happen(subject: string, doing: Step | Move, measured: Measured): Deed {
    const isUnit = UNITS.some((unit) => unit === subject);
    const late = isUnit && doing.kind !== 'received' && this.gone.has(subject);
    const broken = late ? [{ reason: 'sequence-broken', subject }] : [];
    const deed = this.deedOf(subject, doing, measured);
    return { spends: deed.spends, contradictions: [...broken, ...deed.contradictions] };
  }

  private deedOf(subject: string, doing: Step | Move, measured: Measured): Deed {
    switch (doing.kind) {
      case 'shipped':
        this.gone.add(subject);
        return { spends: [], contradictions: [] };
      case 'received': {
        const isHere = !this.gone.delete(subject);
        return { spends: [], contradictions: isHere ? [{ reason: 'sequence-broken', subject }] : [] };
      }
      case 'device-in': {
        const isLoose = this.places.get(subject.slice('devices/'.length)) === 'loose';
        return { spends: [], contradictions: isLoose ? [] : [{ reason: 'identity-conflict', subject }] };
      }
      case 'pass':
        return { spends: this.wholeBoard(subject), contradictions: [] };
      case 'touch-up':
        return { spends: this.local(subject, { ...doing, measured, ...HOT_GAS }), contradictions: [] };
      case 'removal':
        return this.remove(subject, doing, measured);
      case 'dressing':
        return this.dress(subject, doing, measured);
      case 'placement':
        return this.place(subject, doing, measured);
      case 'reballing':
        return this.reball(deviceSubject(doing.device ?? ''), measured);
    }
  }

  private remove(unit: string, step: Extract<Step, { kind: 'removal' }>, measured: Measured): Deed {
    const site = siteSubject(unit, step.site);
    const device = this.carried.get(site) ?? null;
    const heat = { ...step, measured, ...HOT_GAS, toScrap: step.fate === 'scrap' };
    const spends = [...this.local(unit, heat), spend(site, 'site-reworks')];
    if (device !== null && this.places.get(device) === site) {
      this.places.set(device, step.fate === 'scrap' ? 'scrapped' : 'loose');
    }
    this.carried.set(site, null);
    return { spends, contradictions: device === null ? [{ reason: 'sequence-broken', subject: site }] : [] };
  }

  private dress(unit: string, step: Extract<Step, { kind: 'dressing' }>, measured: Measured): Deed {
    const site = siteSubject(unit, step.site);
    const isBare = (this.carried.get(site) ?? null) === null;
    const heat = { ...step, measured, heatsDevice: false, spreads: step.method === 'coupon', toScrap: false };
    const spends = [...this.local(unit, heat), spend(site, 'site-dressings')];
    return { spends, contradictions: isBare ? [] : [{ reason: 'sequence-broken', subject: site }] };
  }

  private place(unit: string, step: Extract<Step, { kind: 'placement' }>, measured: Measured): Deed {
    const site = siteSubject(unit, step.site);
    const { device } = step;
    const before = this.carried.get(site) ?? null;
    const from = this.places.get(device) ?? 'loose';
    const contradictions = before === null ? [] : [{ reason: 'sequence-broken', subject: site }];
    const subject = deviceSubject(device);
    if (from === 'scrapped') contradictions.push({ reason: 'sequence-broken', subject });
    else if (from !== 'loose' && before !== device) contradictions.push({ reason: 'identity-conflict', subject });
    if (before !== null && before !== device && this.places.get(before) === site) this.places.set(before, 'loose');
    this.carried.set(site, device);
    this.places.set(device, site);
    return { spends: this.local(unit, { ...step, measured, ...HOT_GAS }), contradictions };
  }

  private reball(subject: string, { own }: Measured): Deed {
    const isLoose = this.places.get(subject.slice('devices/'.length)) === 'loose';
    return {
      spends: own === 'cool' ? [] : [spend(subject, 'device-excursions')],
      contradictions: isLoose ? [] : [{ reason: 'sequence-broken', subject }],
    };
  }

  private wholeBoard(unit: string): Spend[] {
    const sites = REFDES.map((refdes) => siteSubject(unit, refdes));
    return [spend(unit, 'unit-reflows'), ...sites.flatMap((site) => this.both(site, true))];
  }

  /** A heat at one site: measured verdicts win over what the step is taken to do. */
  private local(unit: string, heat: LocalHeat): Spend[] {
    const { own, beside } = heat.measured;
    const site = siteSubject(unit, heat.site);
    const onSite = own === 'cool' ? [] : [spend(site, 'site-excursions')];
    const device = this.deviceAt(site);
    const isHot = own === null ? heat.heatsDevice : own === 'melts';
    const onDevice =
      device !== null && isHot ? [{ ...spend(deviceSubject(device), 'device-excursions'), exempt: heat.toScrap }] : [];
    const melts = beside === null ? heat.spreads && heat.profile === 'HOT' : beside === 'melts';
    const others = REFDES.filter((refdes) => refdes !== heat.site).map((refdes) => siteSubject(unit, refdes));
    return [...onSite, ...onDevice, ...others.flatMap((other) => this.both(other, melts))];
  }

  private both(site: string, melts: boolean): Spend[] {
    if (!melts) return [];
    const device = this.deviceAt(site);
    const aboard = device === null ? [] : [spend(deviceSubject(device), 'device-excursions')];
    return [spend(site, 'site-excursions'), ...aboard];
  }
}

const HOT_GAS = { heatsDevice: true, spreads: true, toScrap: false };

function spend(subject: string, limit: Spend['limit']): Spend {
  return { subject, limit, exempt: false };
}
