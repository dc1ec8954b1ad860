import { shortSubject } from '../units/effect-words.js';
import { type Entry, effectsOf, heatOf, isVerdict, type Verdict } from '../units/entry-parts.js';
import { type ExplainedHold, subjectKeyOf } from './hold-shape.js';

/** A heat that called for a hold, with what was judged by it. */
export interface HeldHeat {
  readonly entry: Entry;
  readonly startedAt: string;
  readonly endedAt: string;
  /** The site that its step names, where it names one. */
  readonly refdes: string | undefined;
  readonly thermocouples: readonly Thermocouple[];
  readonly trace: string | undefined;
  /** Those of the hold's own subject first. */
  readonly verdicts: readonly Verdict[];
  readonly lines: readonly CountingLine[];
}

export type Thermocouple = NonNullable<ReturnType<typeof heatOf>>['thermocouples'][number];

/** What a reading was held against: solidus of the joint's alloy less the guard band. */
export interface CountingLine {
  readonly alloy: string;
  readonly solidusC: number;
  readonly guardBandC: number;
  readonly atC: number;
}

/** The heats among what called for a hold, in the order in which they happened. */
export function heldHeats({ causes, subject }: Pick<ExplainedHold, 'causes' | 'subject'>): readonly HeldHeat[] {
  return causes.flatMap(({ entries }) => {
    const entry = entries.find((one) => heatOf(one) !== undefined);
    const heat = entry && heatOf(entry);
    if (entry === undefined || heat === undefined) return [];
    const verdicts = distinct(entries.flatMap((one) => effectsOf(one).filter(isVerdict)));
    const isOwn = (verdict: Verdict) => subjectKeyOf(verdict.subject) === subjectKeyOf(subject);
    return [
      {
        entry,
        startedAt: heat.startedAt,
        endedAt: heat.endedAt,
        refdes: refdesOf(entry),
        thermocouples: heat.thermocouples,
        trace: heat.trace,
        verdicts: [...verdicts.filter(isOwn), ...verdicts.filter((verdict) => !isOwn(verdict))],
        lines: linesOf(verdicts),
      },
    ];
  });
}

/** A device's ledger tells again what its board's has told. */
function distinct(verdicts: readonly Verdict[]): readonly Verdict[] {
  const known = new Map<string, Verdict>();
  for (const verdict of verdicts) {
    known.set(`${verdict.kind} ${verdict.limit} ${subjectKeyOf(verdict.subject)}`, verdict);
  }
  return [...known.values()];
}

function linesOf(verdicts: readonly Verdict[]): readonly CountingLine[] {
  const lines = new Map<number, CountingLine>();
  for (const { count } of verdicts) {
    const { verdict } = count;
    if (verdict === undefined) continue;
    const { alloy, solidusC, guardBandC } = verdict;
    const atC = solidusC - guardBandC;
    if (!lines.has(atC)) lines.set(atC, { alloy, solidusC, guardBandC, atC });
  }
  return [...lines.values()].sort((a, b) => a.atC - b.atC);
}

/** The verdict that a thermocouple's reading governed; undefined where another one did. */
export function governedBy(heat: HeldHeat, thermocouple: string): readonly Verdict[] {
  return heat.verdicts.filter(({ count }) => count.verdict?.reading.thermocouple === thermocouple);
}

/** What a verdict is of, short; the device that came on a site without a name is called after the site. */
export function verdictSubject({ entry }: HeldHeat, subject: Verdict['subject']): string {
  const unnamed = `${entry.subject.replace('/', ':')}:`;
  if (subject.kind !== 'device' || !subject.device.startsWith(unnamed)) return shortSubject(subject);
  return `device on ${subject.device.slice(unnamed.length)}`;
}

function refdesOf({ data }: Entry): string | undefined {
  const refdes: unknown = typeof data === 'object' && data !== null && 'refdes' in data ? data.refdes : undefined;
  return typeof refdes === 'string' ? refdes : undefined;
}
