import { paths } from '../paths.js';
import { memberIn, textIn } from '../units/entry-parts.js';
import type { ExplainedHold } from './hold-shape.js';

/** Something that may have been wrong for a while, and where a containment of it begins. */
export interface Suspect {
  readonly words: string;
  readonly href: string;
}

const LOTS = ['flux', 'solder', 'paste', 'balls'] as const;
/** Lots beyond these are looked up on the containment's page. */
const MOST_LOTS = 4;

/** What may have gone wrong for others too, each leading to its containment on the day of the cause. */
export function suspectsOf(hold: ExplainedHold): readonly Suspect[] {
  const at = hold.causes[0]?.time ?? (isOfHouse(hold) ? hold.raisedAt : undefined);
  if (at === undefined) return [];
  const [from, to] = dayAround(at);
  const suspect = (words: string, fields: Readonly<Record<string, string>>): Suspect => ({
    words,
    href: `${paths.containments}?${new URLSearchParams({ ...fields, from, to }).toString()}`,
  });
  const told = hold.causes.flatMap(({ entries }) => entries.map(({ data }) => data));
  const profile = hold.subject.kind === 'profile' ? hold.subject : profileIn(told);
  const [name, revision] = [textIn(profile, 'name'), textIn(profile, 'revision')];
  const lots = new Set(told.flatMap(lotsIn));
  return [
    ...(hold.station === null ? [] : [suspect(`station ${hold.station}`, { station: hold.station })]),
    ...(hold.operator === null ? [] : [suspect(`operator ${hold.operator}`, { operator: hold.operator })]),
    ...(name === undefined
      ? []
      : [
          suspect(`profile ${name}${revision === undefined ? '' : `, revision ${revision}`}`, {
            profile: name,
            ...(revision !== undefined && { revision }),
          }),
        ]),
    ...(hold.subject.kind === 'device'
      ? [suspect(`device ${hold.subject.device}`, { device: hold.subject.device })]
      : []),
    ...[...lots].slice(0, MOST_LOTS).map((lot) => suspect(`lot ${lot}`, { lot })),
  ];
}

/** A person put a station, an operator or a profile on hold: there is no event to go by, only the day. */
function isOfHouse({ subject: { kind } }: ExplainedHold): boolean {
  return kind === 'station' || kind === 'operator' || kind === 'profile';
}

function profileIn(told: readonly unknown[]): unknown {
  return told.map((data) => memberIn(data, 'profile')).find((found) => textIn(found, 'name') !== undefined);
}

/** Flux, solder, paste and balls that a step used, by lot. */
function lotsIn(data: unknown): readonly string[] {
  const lots = memberIn(data, 'lots');
  return LOTS.flatMap((kind) => textIn(lots, kind) ?? []);
}

/** The day here that a moment is in, its first moment and the one after its last; RFC 3339 UTC. */
function dayAround(at: string): readonly [string, string] {
  const from = new Date(at);
  from.setHours(0, 0, 0, 0);
  const to = new Date(from);
  to.setDate(to.getDate() + 1);
  return [from.toISOString(), to.toISOString()];
}
