import type { Schemas } from '../api/client.js';

/** What may have been wrong for a while. */
export const CAUSE_KINDS = ['station', 'operator', 'profile', 'device', 'part', 'lot', 'solderAlloy', 'limit'] as const;
export type CauseKind = (typeof CAUSE_KINDS)[number];

const WORDS: Readonly<Record<CauseKind, string>> = {
  station: 'Station',
  operator: 'Operator',
  profile: 'Profile',
  device: 'Device',
  part: 'Part',
  lot: 'Lot',
  solderAlloy: 'Solder alloy',
  limit: 'Limit',
};

export function causeKindWords(kind: CauseKind): string {
  return WORDS[kind];
}

/** A cause as it is entered: times as the field for them has them, here and to the minute. */
export interface CauseWish {
  readonly kind: CauseKind;
  readonly name: string;
  /** Of a profile; empty means every one. */
  readonly revision: string;
  /** `2026-03-02T06:00`, here. */
  readonly from: string;
  readonly to: string;
}

/** Reads a cause from an address such as `?station=HOTGAS-2&from=…&to=…`, as the page of a hold links to. */
export function causeWish(address: URLSearchParams): CauseWish {
  const kind = CAUSE_KINDS.find((one) => address.has(one)) ?? 'station';
  return {
    kind,
    name: address.get(kind) ?? '',
    revision: address.get('revision') ?? '',
    from: localMinute(address.get('from')),
    to: localMinute(address.get('to')),
  };
}

/** Whether nothing is left to be entered. */
export function isWhole({ name, from, to }: CauseWish): boolean {
  return name !== '' && from !== '' && to !== '';
}

/** The same for the address: with the moments, which mean the same wherever it is opened. @throws RangeError for times that are none */
export function wishInAddress(wish: CauseWish): URLSearchParams {
  const { kind, name, revision } = wish;
  const { from, to } = causeOf(wish);
  return new URLSearchParams({ [kind]: name, ...(revision !== '' && { revision }), from, to });
}

/** The cause as the API takes it. @throws RangeError for times that are none */
export function causeOf({ kind, name, revision, from, to }: CauseWish): Schemas['SuspectCauseBody'] {
  const named = kind === 'profile' ? { profile: { name, ...(revision !== '' && { revision }) } } : { [kind]: name };
  return { ...named, from: new Date(from).toISOString(), to: new Date(to).toISOString() };
}

/** A cause in words: `station HOTGAS-2`, `profile A-OFF, revision B`. */
export function causeInWords(cause: Schemas['SuspectCause']): string {
  if (cause.profile !== undefined) {
    const { name, revision } = cause.profile;
    return `profile ${name}${revision === undefined ? ', every revision' : `, revision ${revision}`}`;
  }
  for (const kind of CAUSE_KINDS) {
    const name = cause[kind];
    if (typeof name === 'string') return `${causeKindWords(kind).toLowerCase()} ${name}`;
  }
  return 'an unknown cause';
}

function localMinute(at: string | null): string {
  const date = new Date(at ?? '');
  if (Number.isNaN(date.getTime())) return '';
  return new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}
