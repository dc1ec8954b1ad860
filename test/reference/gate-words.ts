/** What the naive gate speaks of: two boards of one design, each with two sites beside each other, and a few devices. */
export const ASSEMBLY = 'PAIR';
export const UNITS = [`${ASSEMBLY}/1`, `${ASSEMBLY}/2`] as const;
export const REFDES = ['U1', 'U2'] as const;
export type Refdes = (typeof REFDES)[number];

/** Devices with what they had been through when they came in, and where they were: on a site, or loose. */
export const DEVICES: Readonly<Record<string, { readonly prior: number; readonly from: string }>> = {
  A1: { prior: 1, from: 'PAIR/1#U1' },
  A2: { prior: 0, from: 'PAIR/1#U2' },
  B1: { prior: 0, from: 'PAIR/2#U1' },
  B2: { prior: 1, from: 'PAIR/2#U2' },
  N1: { prior: 0, from: 'loose' },
  N2: { prior: 1, from: 'loose' },
  N3: { prior: 2, from: 'loose' },
};

/** Limits of this shop, tight so that plans collide, and what every subject had spent of them before. */
export const LIMITS = {
  'device-excursions': { allowed: 3, action: 'hold' },
  'site-reworks': { allowed: 2, action: 'hold' },
  'site-excursions': { allowed: 6, action: 'hold' },
  'site-dressings': { allowed: 2, action: 'warn' },
  'unit-reflows': { allowed: 2, action: 'hold' },
} as const;
export type Limit = keyof typeof LIMITS;

/** What a profile's qualification says of the site beside the heated one: it melts, it does not, or nothing. */
export const PROFILES = ['HOT', 'COOL', 'MUTE'] as const;
export type Profile = (typeof PROFILES)[number];

/** A step that is done, or asked for. */
export type Step =
  | { readonly kind: 'touch-up'; readonly site: Refdes; readonly profile: Profile }
  | { readonly kind: 'removal'; readonly site: Refdes; readonly fate: 'keep' | 'scrap'; readonly profile: Profile }
  | { readonly kind: 'dressing'; readonly site: Refdes; readonly method: 'braid' | 'coupon'; readonly profile: Profile }
  | { readonly kind: 'placement'; readonly site: Refdes; readonly device: string; readonly profile: Profile }
  | { readonly kind: 'pass' }
  /** Of the device that is named or, in a plan for a board, of the one that was taken off last. */
  | { readonly kind: 'reballing'; readonly device: string | null };

/** A board leaves or comes in; a device comes in. These ask for no clearance. */
export type Move = { readonly kind: 'shipped' } | { readonly kind: 'received' } | { readonly kind: 'device-in' };

/** What thermocouples saw on the heated site and beside it; null where there were none. */
export interface Measured {
  readonly own: 'melts' | 'cool' | null;
  readonly beside: 'melts' | 'cool' | null;
}
export const UNMEASURED: Measured = { own: null, beside: null };

/** One concession as it was known when a fact was first judged. */
export interface Conceded {
  readonly subject: string;
  readonly limit: Limit;
  readonly allowed: number;
  /** Milliseconds since the epoch. */
  readonly from: number;
}

/** What a station said, and what the house had conceded when it was first judged. Times in ms since the epoch. */
export interface Told {
  /** In the order in which it was said, which is the order of its id. */
  readonly number: number;
  /** A board, or `devices/{device}`. */
  readonly subject: string;
  readonly doing: Step | Move;
  readonly measured: Measured;
  readonly at: number;
  /** When its heat began. */
  readonly began: number;
  /** The clearance that it names, by number; -1 is one that nobody gave. */
  readonly names: number | null;
  readonly conceded: readonly Conceded[];
  /** A person has struck it. */
  struck: boolean;
}

/** What a step spends of one budget. `exempt`: counted, but no reason to stop. */
export interface Spend {
  readonly subject: string;
  readonly limit: Limit;
  readonly exempt: boolean;
}

/** A clearance, with what each of its steps holds back. */
export interface Granted {
  readonly subject: string;
  readonly steps: readonly GrantedStep[];
  readonly grantedAt: number;
  readonly expiresAt: number;
  returnedAt: number | null;
  lapsed: boolean;
}

export interface GrantedStep {
  readonly plan: Step;
  /** The device that it is for; null where none was on the site. */
  readonly device: string | null;
  readonly reserves: readonly Spend[];
}

/** Why there is a stop: a fact, by its number, calls for a hold. */
export interface Call {
  readonly reason: string;
  readonly subject: string;
  readonly fact: number;
}

export function deviceSubject(device: string): string {
  return `devices/${device}`;
}

export function siteSubject(unit: string, refdes: Refdes): string {
  return `${unit}#${refdes}`;
}

/** What had been spent before the book began. The boards saw one pass when they were built. */
export function priorOf(subject: string, limit: Limit): number {
  if (limit === 'device-excursions') return DEVICES[subject.slice('devices/'.length)]?.prior ?? 0;
  return limit === 'site-excursions' || limit === 'unit-reflows' ? 1 : 0;
}

/** Every budget that there is in this shop. */
export function allBudgets(): readonly { readonly subject: string; readonly limit: Limit }[] {
  const devices = Object.keys(DEVICES).map((device) => ({
    subject: deviceSubject(device),
    limit: 'device-excursions' as const,
  }));
  const sites = UNITS.flatMap((unit) =>
    REFDES.flatMap((refdes) =>
      (['site-reworks', 'site-excursions', 'site-dressings'] as const).map((limit) => ({
        subject: siteSubject(unit, refdes),
        limit,
      })),
    ),
  );
  return [...devices, ...sites, ...UNITS.map((subject) => ({ subject, limit: 'unit-reflows' as const }))];
}
