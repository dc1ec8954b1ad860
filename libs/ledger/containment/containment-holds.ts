import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { HoldRecord, UNWORKED } from '../holds/hold-record.js';
import { ContainmentRecord } from './containment-record.js';
import { nameOfCause, sayInterval, SuspectCause } from './suspect-cause.js';
import { Touched, TouchingEntry } from './touched.js';

/** Entries that a hold names; the containment has more of them. */
const MOST_DETAILS = 10;

/** The hold that a containment puts on a unit or device. */
export function holdOnTouched(containment: ContainmentRecord, touched: Touched, id: string, at: string): HoldRecord {
  const { key, subject, customer, touches, entries, through } = touched;
  const summary = `Reached by ${nameOfCause(containment.cause)} ${sayInterval(containment)}, which is under suspicion: ${lastNote(containment)}`;
  const more = touches - Math.min(entries.length, MOST_DETAILS);
  return {
    ...common(containment, id, at),
    subject,
    unit: subject.kind === 'unit' ? { assembly: subject.assembly, serial: subject.serial } : null,
    customer,
    evidence: {
      summary,
      details: [
        ...(through.length === 0 ? [] : [`through device ${through.join(', ')}`]),
        ...entries.slice(0, MOST_DETAILS).map((entry) => sayEntry(entry, key)),
        ...(more > 0 ? [`and ${more} more`] : []),
      ],
    },
    remedy: remedyFor(touched),
  };
}

/** The hold on the cause itself. */
export function holdOnCause(containment: ContainmentRecord, subject: HoldSubject, id: string, at: string): HoldRecord {
  return {
    ...common(containment, id, at),
    subject,
    unit: null,
    customer: null,
    evidence: { summary: `Under suspicion ${sayInterval(containment)}: ${lastNote(containment)}` },
    remedy: 'Find out what is wrong with it and mend that; then quality decides and a second person releases it.',
  };
}

/** What of a cause can be held itself, so that the gate refuses further work by it; null where nothing can. */
export function causeSubjects(cause: SuspectCause, revisions: readonly string[]): readonly HoldSubject[] {
  switch (cause.kind) {
    case 'station':
    case 'operator':
      return [cause];
    case 'profile':
      return (cause.revision === undefined ? revisions : [cause.revision]).map((revision) => ({
        kind: 'profile',
        name: cause.name,
        revision,
      }));
    case 'device':
    case 'part':
    case 'lot':
    case 'solder-alloy':
    case 'limit':
      return [];
  }
}

function common(containment: ContainmentRecord, id: string, at: string) {
  const { cause } = containment;
  return {
    id,
    state: 'open',
    reason: 'by-hand',
    station: cause.kind === 'station' ? cause.station : null,
    operator: cause.kind === 'operator' ? cause.operator : null,
    raisedAt: at,
    raisedBy: containment.rounds.at(-1)?.signature.by ?? null,
    causes: [],
    touched: true,
    causeGone: false,
    ...UNWORKED,
    containment: containment.id,
  } as const satisfies Partial<HoldRecord>;
}

function lastNote({ rounds }: ContainmentRecord): string {
  return rounds.at(-1)?.note ?? '';
}

/** A hold on a unit goes to its customer, so it quotes that unit's ledger alone; the containment's own list has the others. */
function sayEntry({ ledger, seq, type, at, event }: TouchingEntry, touched: StreamKey): string {
  if (ledger !== touched && parseStream(touched)?.kind === 'unit') {
    return `elsewhere, as the containment lists it: ${type} of ${at}`;
  }
  return `${ledger} entry ${seq}: ${type} of ${at}, ${event.source} ${event.id}`;
}

function remedyFor({ state, customer }: Touched): string {
  const check = 'Check it for what the cause may have done, then dispose of the hold.';
  switch (state) {
    case 'shipped':
      return `It was shipped: tell ${customer ?? 'its owner'}, and agree whether it comes back. ${check}`;
    case 'scrapped':
      return `It is scrapped: make sure that it did not leave the house. ${check}`;
    case 'loose':
      return `Keep it off every board until then. ${check}`;
    case 'expected':
    case 'in-house':
      return check;
  }
}
