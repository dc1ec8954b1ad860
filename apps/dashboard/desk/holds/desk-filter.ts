import type { operations } from '../api/schema.js';

/** What the API takes to narrow holds down. */
type HoldQuery = NonNullable<operations['listHolds']['parameters']['query']>;

/** How long holds have been open, in the bands that the summary counts. */
export const AGES = ['underOneDay', 'oneToSevenDays', 'overSevenDays'] as const;
export type Age = (typeof AGES)[number];

/** What a hold can be of. */
export const SUBJECT_KINDS = ['unit', 'site', 'device', 'station', 'operator', 'profile'] as const;

const CHOICES = {
  state: ['open', 'released', 'withdrawn'],
  order: ['graveness', 'age'],
  stage: ['new', 'assigned', 'decided'],
  age: AGES,
  overdue: ['true'],
  subjectKind: SUBJECT_KINDS,
} as const;

/** Of whoever has signed in, whose name an address that is passed on must not carry. */
export const ME = 'me';

const DEFAULTS = { state: 'open', order: 'graveness' } as const;

/** What holds are narrowed down by, each at most once; the first two always have a value. */
export const NARROWING = [
  'stage',
  'overdue',
  'assignee',
  'age',
  'reason',
  'customer',
  'assembly',
  'serial',
  'device',
  'subjectKind',
  'station',
  'operator',
  'containment',
] as const;
export type Narrowing = (typeof NARROWING)[number];

/** What the desk shows: the address of the page says it, so that it can be kept and passed on. */
export type DeskFilter = Readonly<Partial<Record<Narrowing, string>>> & {
  readonly state: 'open' | 'released' | 'withdrawn';
  readonly order: 'graveness' | 'age';
};

const MOST_CHARACTERS = 200;

/** The filter in an address. What it does not know, or could not be, is left out. */
export function readFilter(params: URLSearchParams): DeskFilter {
  const found: Partial<Record<Narrowing, string>> = {};
  for (const field of NARROWING) {
    const value = params.get(field)?.trim() ?? '';
    if (value !== '' && value.length <= MOST_CHARACTERS && mayBe(field, value)) found[field] = value;
  }
  return {
    state: choice(CHOICES.state, params.get('state')) ?? DEFAULTS.state,
    order: choice(CHOICES.order, params.get('order')) ?? DEFAULTS.order,
    ...found,
  };
}

function mayBe(field: Narrowing, value: string): boolean {
  if (field !== 'stage' && field !== 'age' && field !== 'overdue' && field !== 'subjectKind') return true;
  return choice(CHOICES[field], value) !== undefined;
}

function choice<Choice extends string>(choices: readonly Choice[], value: string | null): Choice | undefined {
  return choices.find((one) => one === value);
}

/** A filter as the address says it: in one order, without what goes without saying. */
export function writeFilter(filter: DeskFilter): URLSearchParams {
  const params = new URLSearchParams();
  if (filter.state !== DEFAULTS.state) params.set('state', filter.state);
  for (const field of NARROWING) {
    const value = filter[field];
    if (value !== undefined) params.set(field, value);
  }
  if (filter.order !== DEFAULTS.order) params.set('order', filter.order);
  return params;
}

/** The filter narrowed down by one thing more, or, with undefined, no longer by it. */
export function narrowed(filter: DeskFilter, field: Narrowing, value: string | undefined): DeskFilter {
  const { [field]: before, ...others } = filter;
  return value === undefined || value === before ? others : { ...others, [field]: value };
}

/** Whether anything narrows it down. */
export function isNarrowed(filter: DeskFilter): boolean {
  return NARROWING.some((field) => filter[field] !== undefined);
}

const DAY_MS = 86_400_000;

/**
 * What to ask the API for.
 * @param me account of whoever asks
 * @param nowMs milliseconds since 1970: ages are counted back from it, as the summary counts them
 */
export function queryOf(filter: DeskFilter, me: string, nowMs: number): HoldQuery {
  const { age, assignee, order, state, ...same } = filter;
  return {
    ...(same as HoldQuery),
    state,
    order,
    ...(assignee !== undefined && { assignee: assignee === ME ? me : assignee }),
    ...(age !== undefined && raisedWithin(age, nowMs)),
  };
}

function raisedWithin(age: string, nowMs: number): Pick<HoldQuery, 'raisedFrom' | 'raisedTo'> {
  // The day and the week themselves belong to the older band; `raisedFrom` is inclusive.
  const daysAgo = (days: number) => new Date(nowMs - days * DAY_MS + 1).toISOString();
  if (age === 'underOneDay') return { raisedFrom: daysAgo(1) };
  if (age === 'oneToSevenDays') return { raisedFrom: daysAgo(7), raisedTo: daysAgo(1) };
  return { raisedTo: daysAgo(7) };
}
