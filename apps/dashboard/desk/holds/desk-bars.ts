import type { Schemas } from '../api/client.js';
import type { Bar } from '../kit/bars.js';
import { reasonWords, stageWords } from '../words/words.js';
import { AGES } from './desk-filter.js';
import { ageWords } from './desk-words.js';

/** What open holds are counted by in small charts. */
export const DIMENSIONS = ['reason', 'customer', 'station', 'age', 'stage'] as const;
export type Dimension = (typeof DIMENSIONS)[number];

type HoldSummary = Schemas['HoldSummary'];

const STAGES = ['new', 'assigned', 'decided'] as const;

/** The bars of a chart: what has a natural order in that, the rest with the most first. */
export function barsOf(dimension: Dimension, summary: HoldSummary): readonly Bar[] {
  switch (dimension) {
    case 'reason':
      return byCount(summary.byReason, reasonWords);
    case 'customer':
      return byCount(summary.byCustomer, String);
    case 'station':
      return byCount(summary.byStation, String);
    case 'age':
      return AGES.map((age) => ({ name: age, label: ageWords(age), count: summary.byAge[age] }));
    case 'stage':
      return STAGES.map((stage) => ({ name: stage, label: stageWords(stage), count: summary.byStage[stage] }));
  }
}

function byCount(counts: Readonly<Record<string, number>>, words: (name: string) => string): readonly Bar[] {
  return Object.entries(counts)
    .map(([name, count]) => ({ name, label: words(name), count }))
    .sort((one, other) => other.count - one.count || one.label.localeCompare(other.label, 'en'));
}
