import type { ThermocoupleSummary } from '../../../../libs/domain/events/heat.js';
import type { HeatAbove, HeatCurve, HeatLine } from '../kit/heat-curves-series.js';
import { heatOf, isVerdict, textIn, type Verdict } from './entry-parts.js';
import { entryInWords } from './entry-words.js';
import type { ToldEntry } from './ledger-story.js';
import { placedThermocouple } from './thermocouple-name.js';

/** A heat of a board or device as its ledger tells it, judged as it is now. */
export interface ToldHeat {
  readonly seq: number;
  readonly title: string;
  /** The site that the step names. */
  readonly refdes: string | undefined;
  readonly startedAt: string;
  readonly endedAt: string;
  readonly thermocouples: readonly ThermocoupleSummary[];
  readonly trace: string | undefined;
  readonly verdicts: readonly Verdict[];
  /** The lowest line that a reading was held against; null where nothing was measured against one. */
  readonly line: { readonly atC: number; readonly solidusC: number; readonly alloy: string } | null;
  readonly struckBy: number | null;
}

/** The heats among what a ledger tells, in its order. */
export function toldHeats(story: readonly ToldEntry[]): readonly ToldHeat[] {
  return story.flatMap(({ entry, effects, struckBy }) => {
    const heat = heatOf(entry);
    if (heat === undefined) return [];
    const verdicts = effects.filter(isVerdict);
    const { startedAt, endedAt, thermocouples, trace } = heat;
    const told = { seq: entry.seq, title: entryInWords(entry).title, refdes: textIn(entry.data, 'refdes') };
    return [{ ...told, startedAt, endedAt, thermocouples, trace, verdicts, line: lowestLine(verdicts), struckBy }];
  });
}

function lowestLine(verdicts: readonly Verdict[]): ToldHeat['line'] {
  let line: ToldHeat['line'] = null;
  for (const { count } of verdicts) {
    if (count.verdict === undefined) continue;
    const { solidusC, guardBandC, alloy } = count.verdict;
    const atC = solidusC - guardBandC;
    if (line === null || atC < line.atC) line = { atC, solidusC, alloy };
  }
  return line;
}

/** Heats that are drawn when nobody has chosen: the latest that have a trace and were not struck. */
export function heatsToDraw(heats: readonly ToldHeat[], most: number): ReadonlySet<number> {
  const drawable = heats.filter(({ trace, struckBy }) => trace !== undefined && struckBy === null);
  return new Set(drawable.slice(-most).map(({ seq }) => seq));
}

interface CurveChannel {
  readonly name: string;
  /** `ok`, or why its readings are not to be trusted. */
  readonly state: string;
  readonly atC: readonly (number | null)[];
}

/** What is known of a trace, as the service thins it. */
interface CurveLike {
  readonly seconds: readonly number[];
  readonly channels: readonly CurveChannel[];
  readonly above: readonly { readonly channel: string; readonly fromS: number; readonly toS: number }[];
}

/** What is drawn of several heats over each other. */
export interface HeatsDrawn {
  readonly curves: readonly HeatCurve[];
  readonly lines: readonly HeatLine[];
  readonly above: readonly HeatAbove[];
}

/** Lays the traces of heats over each other, each from its own first sample. */
export function heatsDrawn(traced: readonly { readonly heat: ToldHeat; readonly curve: CurveLike }[]): HeatsDrawn {
  const drawn = traced.map(({ heat, curve }) => {
    const name = curveName(heat);
    const startS = curve.seconds[0] ?? 0;
    const named = new Map(curve.channels.map((channel) => [channel.name, channelName(heat, channel)]));
    const channels = curve.channels.map(({ name: id, atC }) => ({ name: named.get(id) ?? id, atC }));
    const above = curve.above.map(({ channel, fromS, toS }) => ({
      ...{ curve: name, channel: named.get(channel) ?? channel, fromS: fromS - startS, toS: toS - startS },
      ...(heat.line !== null && { overC: heat.line.atC }),
    }));
    return { curve: { name, seconds: curve.seconds.map((s) => s - startS), channels }, above };
  });
  return {
    curves: drawn.map(({ curve }) => curve),
    lines: linesOf(traced.map(({ heat }) => heat)),
    above: drawn.flatMap(({ above }) => above),
  };
}

/** How a heat is called in a plot. */
function curveName({ seq, refdes }: ToldHeat): string {
  return refdes === undefined ? `Entry ${seq}` : `Entry ${seq}, ${refdes}`;
}

const STATES: Readonly<Record<string, string>> = { open: ', open circuit', stuck: ', stuck', suspect: ', suspect' };

/** A channel with where its thermocouple was, where the station says, and whether it can be trusted. */
function channelName({ thermocouples }: ToldHeat, { name: id, state }: CurveChannel): string {
  const told = thermocouples.find((one) => one.id === id);
  return `${told === undefined ? id : placedThermocouple(told)}${STATES[state] ?? ''}`;
}

function linesOf(heats: readonly ToldHeat[]): readonly HeatLine[] {
  const lines = new Map<string, HeatLine>();
  for (const { line } of heats) {
    if (line === null) continue;
    for (const one of [
      { atC: line.atC, label: 'counting line' },
      { atC: line.solidusC, label: `solidus ${line.alloy}` },
    ]) {
      lines.set(`${one.atC} ${one.label}`, one);
    }
  }
  return [...lines.values()];
}
