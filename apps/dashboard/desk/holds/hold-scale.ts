import { memberIn } from '../units/entry-parts.js';
import type { ExplainedHold } from './hold-shape.js';

/** A measured figure beside the limit that it broke. */
export interface MeasuredScale {
  /** What was measured or estimated, a figure each; the worst first. */
  readonly values: readonly { readonly name: string; readonly figure: number }[];
  readonly limit: number;
  /** What lies under the limit is wrong, not what lies over it. */
  readonly isLeast: boolean;
  /** Unit of all figures, as the rule has it. */
  readonly unit: string;
  /** What the figure is, in words. */
  readonly what: string;
  /** Where the scale begins and ends. */
  readonly fromTo: readonly [number, number];
}

/** Figures beyond these are in the details. */
const MOST = 24;
/** Temperatures are drawn from this far below the limit, °C. */
const BELOW_C = 60;

type Measured = Omit<MeasuredScale, 'fromTo' | 'values'> & { readonly values: MeasuredScale['values'] };

/**
 * The measured figure that broke a limit, to be drawn beside it; null for what is counted, and where no figure is told.
 * Where the event itself tells the figure it is taken from there, else from the words of the evidence, in which the book
 * always puts it.
 */
export function measuredScale(hold: ExplainedHold): MeasuredScale | null {
  const measured = READERS[hold.reason]?.(hold);
  if (measured === undefined || measured.values.length === 0) return null;
  const { isLeast, limit, unit } = measured;
  const values = [...measured.values]
    .sort((a, b) => (isLeast ? a.figure - b.figure : b.figure - a.figure))
    .slice(0, MOST);
  const all = [limit, ...values.map(({ figure }) => figure)];
  const most = Math.max(...all);
  const from = unit === 'C' ? Math.min(limit - BELOW_C, ...all) : Math.min(0, ...all);
  return { ...measured, values, fromTo: [from, most + (most - from) * 0.15] };
}

type Reader = (hold: ExplainedHold) => Measured | undefined;

const READERS: Readonly<Record<string, Reader>> = {
  'flatness-max': ({ evidence }) => {
    const [, figure, allowed, pitch] =
      /lies ([\d.]+) mm below the seating plane; ([\d.]+) mm are allowed at ([\d.]+) mm pitch/.exec(evidence.summary) ??
      [];
    if (figure === undefined || allowed === undefined) return undefined;
    const values = [{ name: 'lowest point', figure: Number(figure) }];
    return {
      values,
      limit: Number(allowed),
      isLeast: false,
      unit: 'mm',
      what: `below the seating plane, at ${String(pitch)} mm pitch`,
    };
  },
  'pad-copper-min': ({ evidence }) => {
    const [, left, start] = /have ([\d.]+) um of copper left of ([\d.]+) um/.exec(evidence.summary) ?? [];
    if (left === undefined || typeof evidence.allowed !== 'number') return undefined;
    const values = [
      { name: 'left', figure: Number(left) },
      { name: 'when new', figure: Number(start) },
    ];
    return { values, limit: evidence.allowed, isLeast: true, unit: 'um', what: 'of pad copper, by estimate' };
  },
  'floor-life': ({ evidence }) => {
    const [, percent] =
      /used up (\d+(?:\.\d+)?) %/.exec([evidence.summary, ...(evidence.details ?? [])].join(' ')) ?? [];
    if (percent === undefined) return undefined;
    const values = [{ name: 'used up', figure: Number(percent) / 100 }];
    return { values, limit: 1, isLeast: false, unit: 'share of floor life', what: 'before the heat' };
  },
  'void-fraction-max': (hold) => {
    if (typeof hold.evidence.allowed !== 'number') return undefined;
    const values = named(dataOf(hold, 'voids'), 'joint', 'fraction');
    return { values, limit: hold.evidence.allowed, isLeast: false, unit: 'share of ball area', what: 'void, by joint' };
  },
  'joint-lead-max': (hold) => {
    const [leadPct] = dataOf(hold, 'leadPct');
    if (typeof leadPct !== 'number' || typeof hold.evidence.allowed !== 'number') return undefined;
    const values = [{ name: 'measured', figure: leadPct }];
    return { values, limit: hold.evidence.allowed, isLeast: false, unit: 'wt%', what: 'of lead in the joint' };
  },
  'body-peak-max': (hold) => {
    const [, classC] = /class temperature of ([\d.]+) C/.exec(hold.evidence.summary) ?? [];
    if (classC === undefined || typeof hold.evidence.allowed !== 'number') return undefined;
    const readings = dataOf(hold, 'heat').flatMap((heat) => list(memberIn(heat, 'thermocouples')));
    const bodies = readings.filter((reading) => memberIn(reading, 'position') === 'body');
    const limit = Number(classC) + hold.evidence.allowed;
    return { values: named([bodies], 'id', 'peakC'), limit, isLeast: false, unit: 'C', what: 'peak of the body' };
  },
};

/** A member of the data of every event that called for the hold. */
function dataOf({ causes }: ExplainedHold, member: string): readonly unknown[] {
  return causes.flatMap(({ entries }) => {
    const told = entries.map(({ data }) => memberIn(data, member)).find((value) => value !== undefined);
    return told === undefined ? [] : [told];
  });
}

function named(lists: readonly unknown[], name: string, figure: string): MeasuredScale['values'] {
  return lists.flatMap(list).flatMap((row) => {
    const [called, value] = [memberIn(row, name), memberIn(row, figure)];
    return typeof called === 'string' && typeof value === 'number' ? [{ name: called, figure: value }] : [];
  });
}

function list(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

/** Where a figure lies on the scale, 0 to 1. */
export function placeOn({ fromTo: [from, to] }: MeasuredScale, figure: number): number {
  return Math.min(1, Math.max(0, (figure - from) / (to - from)));
}

/** The figures that broke the limit. */
export function isBroken({ limit, isLeast }: MeasuredScale, figure: number): boolean {
  return isLeast ? figure < limit : figure > limit;
}
