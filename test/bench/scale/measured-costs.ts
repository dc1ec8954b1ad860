import { BATCH } from '../load/rework-line.js';
import { BenchFigures, figureOf } from './bench-figures.js';

/** CPU time of one piece of work: what it takes once, and what each of its events takes beside; us. */
export interface LinearCost {
  readonly onceUs: number;
  readonly eachUs: number;
}

/** What each stage of an event's way costs. */
export interface Costs {
  /** A request, for the api. */
  readonly request: LinearCost;
  /** An insert into the inbox, for Postgres. */
  readonly insert: LinearCost;
  /** The wake-up after an insert, for Redis. */
  readonly wake: LinearCost;
  /** A fold, for the worker, with its timers. */
  readonly fold: LinearCost;
  /** A fold, for Postgres, with what it does by itself. */
  readonly write: LinearCost;
}

/** An average over work of a certain size. */
export interface MeasuredAt {
  /** Events that shared a piece of work. */
  readonly events: number;
  readonly usAnEvent: number;
}

/**
 * Of one quick run of the cost bench on two busy cores, rounded: good for nothing but to see what the simulation prints
 * where no measurement was given.
 */
export const FALLBACK_COSTS: Costs = {
  request: { onceUs: 140, eachUs: 45 },
  insert: { onceUs: 700, eachUs: 19 },
  wake: { onceUs: 350, eachUs: 3 },
  fold: { onceUs: 2_100, eachUs: 215 },
  write: { onceUs: 4_700, eachUs: 86 },
};

/** Takes the costs from a report of the cost bench. @throws Error where one of its figures is missing */
export function measuredCosts(figures: BenchFigures): Costs {
  const of = (name: string): number => figureOf(figures, name);
  const between = (parts: readonly string[], sizeOf: (way: string) => number, few = 'paced'): LinearCost => {
    const at = (way: string): MeasuredAt => ({
      events: sizeOf(way),
      usAnEvent: parts.reduce((sum, part) => sum + of(`${way}-cpu-${part}`), 0),
    });
    return linearThrough(at('batch'), at(few));
  };
  const inserted = (way: string): number => of(`${way}: events an insert`);
  const folded = (way: string): number => of(`${way}: events a fold`);
  return {
    request: between(['api'], (way) => (way === 'batch' ? BATCH : 1), 'single'),
    insert: between(['postgres-for-api'], inserted),
    wake: between(['redis'], inserted),
    fold: between(['worker'], folded),
    write: between(['postgres-for-worker', 'postgres-itself'], folded),
  };
}

/**
 * The line through what was measured with many events at a time and with few. Neither part of a cost is below nothing.
 * @throws Error where the two have about as many, so that they do not tell what is done once
 */
export function linearThrough(many: MeasuredAt, few: MeasuredAt): LinearCost {
  if (!(many.events > 2 * few.events)) {
    throw new Error(
      `work on ${many.events.toFixed(0)} and on ${few.events.toFixed(0)} events is too alike to draw a line`,
    );
  }
  const onceUs = (few.usAnEvent - many.usAnEvent) / (1 / few.events - 1 / many.events);
  if (!(onceUs > 0)) return { onceUs: 0, eachUs: many.usAnEvent };
  const eachUs = many.usAnEvent - onceUs / many.events;
  return eachUs >= 0 ? { onceUs, eachUs } : { onceUs: many.usAnEvent * many.events, eachUs: 0 };
}

export function costUs({ onceUs, eachUs }: LinearCost, events: number): number {
  return onceUs + eachUs * events;
}
