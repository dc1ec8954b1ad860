import type { BookEffect } from '../../../../libs/ledger/fold/book-effect.js';
import { decisionWords, entryWords, methodWords, reasonWords } from '../words/words.js';
import { effectsOf, type EntryLike, heatOf, isVerdict, memberIn, stepOf, textIn } from './entry-parts.js';
import { entryInWords } from './entry-words.js';
import { type CalledHold, holdsCalled } from './ledger-holds.js';
import type { ToldEntry } from './ledger-story.js';
import { techniqueWords } from './step-words.js';

/** The lane of what concerns the whole board. */
export const BOARD = 'Board';

/** `heat`: something was heated; `bake`: in the oven, under any solidus; `work`: without heat; `paper`: decided or written. */
export type RouteKind = 'heat' | 'bake' | 'work' | 'paper';

/** One step of a board's way through the house. */
export interface RouteStep {
  readonly seq: number;
  /** A site, or the board. */
  readonly lane: string;
  readonly kind: RouteKind;
  /** In a word or two. */
  readonly word: string;
  /** What is to be known besides, in a few words. */
  readonly detail: string;
  /** In full. */
  readonly title: string;
  /** Milliseconds since 1970. */
  readonly fromMs: number;
  readonly toMs: number;
  /** Excursions that were counted of whatever subject, and those that are only possible. */
  readonly counted: number;
  readonly possible: number;
  /** It found something wrong, or was refused. */
  readonly failed: boolean;
  readonly struck: boolean;
  readonly effects: readonly BookEffect[];
  /** Holds that it called for, though they may have been withdrawn since. */
  readonly holds: readonly CalledHold[];
  /** By which its holds are found. */
  readonly event: unknown;
  readonly time: string;
}

/** The steps of a ledger in the order in which they began. */
export function routeSteps(story: readonly ToldEntry[]): readonly RouteStep[] {
  return story.map((told) => routeStep(told)).sort((a, b) => a.fromMs - b.fromMs || a.seq - b.seq);
}

function routeStep({ entry, effects, struckBy }: ToldEntry): RouteStep {
  const span = heatOf(entry) ?? bakeOf(entry);
  const atMs = Date.parse(entry.time);
  const [fromMs, toMs] = span === undefined ? [atMs, atMs] : [Date.parse(span.startedAt), Date.parse(span.endedAt)];
  const excursions = effects
    .filter(isVerdict)
    .filter(({ limit }) => limit === 'device-excursions' || limit === 'site-excursions');
  return {
    ...{ seq: entry.seq, lane: laneOf(entry), kind: kindOf(entry), title: entryInWords(entry).title },
    ...shortly(entry),
    ...{ fromMs, toMs: Math.max(fromMs, toMs), effects, struck: struckBy !== null },
    ...{ holds: holdsCalled([...effectsOf(entry), ...effects]), event: entry.event, time: entry.time },
    counted: excursions.filter(({ kind }) => kind === 'counted').length,
    possible: excursions.filter(({ kind }) => kind === 'possible').length,
    failed: memberIn(entry.data, 'result') === 'fail',
  };
}

function bakeOf({ data }: EntryLike): { startedAt: string; endedAt: string } | undefined {
  const [startedAt, endedAt] = [textIn(data, 'startedAt'), textIn(data, 'endedAt')];
  return startedAt === undefined || endedAt === undefined ? undefined : { startedAt, endedAt };
}

/** What is on paper stands on the lane of the site that it is about, if that is all that it is about. */
function laneOf({ event, data, effects }: EntryLike): string {
  const named = textIn(data, 'refdes') ?? textIn(memberIn(data, 'target'), 'refdes');
  const about = event === null && effects.length === 1 ? textIn(memberIn(effects[0], 'subject'), 'refdes') : undefined;
  return named ?? about ?? BOARD;
}

function kindOf(entry: EntryLike): RouteKind {
  const step = stepOf(entry);
  if (step === undefined) return 'paper';
  if (step.type === 'heatbook.unit.baked.v1' || step.type === 'heatbook.device.baked.v1') return 'bake';
  // Molten solder is heat, whether or not anybody measured it.
  return heatOf(entry) !== undefined || step.type === 'heatbook.site.dressed.v1' ? 'heat' : 'work';
}

function shortly(entry: ToldEntry['entry']): { readonly word: string; readonly detail: string } {
  const step = stepOf(entry);
  switch (step?.type) {
    case 'heatbook.unit.received.v1':
      return { word: 'Received', detail: step.data.workOrder ?? '' };
    case 'heatbook.unit.baked.v1':
      return { word: 'Bake', detail: `${step.data.temperatureC} °C, ${hoursOf(step.data)} h` };
    case 'heatbook.unit.reflowed.v1':
      return { word: 'Reflow', detail: step.data.side ?? '' };
    case 'heatbook.device.removed.v1':
      return { word: 'Removed', detail: step.data.fate === 'scrap' ? 'to scrap' : 'kept' };
    case 'heatbook.site.dressed.v1':
      return { word: 'Dressed', detail: `${firstWord(methodWords(step.data.method))}, ${step.data.passes}×` };
    case 'heatbook.device.placed.v1':
      return { word: 'Placed', detail: step.data.device };
    case 'heatbook.site.heated.v1':
      return { word: 'Heated', detail: step.data.purpose };
    case 'heatbook.site.cleaned.v1':
      return { word: 'Cleaned', detail: '' };
    case 'heatbook.site.repaired.v1':
      return { word: 'Repaired', detail: '' };
    case 'heatbook.inspection.recorded.v1': {
      const { technique, result } = step.data;
      return { word: result === 'pass' ? '✓ Passed' : '✕ Failed', detail: techniqueWords(technique) };
    }
    case 'heatbook.exposure.started.v1':
      return { word: 'Out in air', detail: step.data.storage };
    case 'heatbook.exposure.stopped.v1':
      return { word: 'Dry store', detail: step.data.storage };
    default:
      return { word: entryWords(entry.type).replace(/^heatbook\.|\.v1$/g, ''), detail: paperDetail(entry) };
  }
}

function paperDetail({ effects }: EntryLike): string {
  const effect = (effects as readonly BookEffect[])[0];
  if (effect?.kind === 'hold-raised' || effect?.kind === 'hold-released') return reasonWords(effect.reason);
  return effect?.kind === 'hold-disposed' ? decisionWords(effect.decision) : '';
}

function hoursOf({ startedAt, endedAt }: { readonly startedAt: string; readonly endedAt: string }): string {
  return String(Math.round((Date.parse(endedAt) - Date.parse(startedAt)) / 360_000) / 10);
}

function firstWord(words: string): string {
  return (
    words
      .split(' ')
      .find((word) => word !== 'Solder' && word !== 'Copper')
      ?.toLowerCase() ?? words
  );
}
