import { BenchCase, Goal } from './bench-case.js';

/** What a figure or a ratio came to over all rounds that count. */
export interface Spread {
  readonly name: string;
  /** The median. */
  readonly value: number;
  readonly runs: number;
  readonly min: number;
  readonly max: number;
}

export interface FigureSpread extends Spread {
  readonly unit: string;
}

export interface RatioSpread extends Spread {
  readonly goal?: Goal;
  /** Whether the median reaches the goal, where there is one. */
  readonly reached?: boolean;
}

export interface Findings {
  readonly figures: readonly FigureSpread[];
  readonly ratios: readonly RatioSpread[];
}

/**
 * Takes the measures of a case in turns and sums them up.
 * @throws Error where a ratio names a measure that is not there
 */
export async function takeTurns({
  measures,
  ratios,
  rounds,
  warmUps,
}: Pick<BenchCase, 'measures' | 'ratios' | 'rounds' | 'warmUps'>): Promise<Findings> {
  const taken = new Map(measures.map(({ name }): [string, number[]] => [name, []]));
  for (let round = -warmUps; round < rounds; round += 1) {
    for (const { name, take } of measures) {
      const figure = await take();
      if (round >= 0) taken.get(name)?.push(figure);
    }
  }
  const figuresOf = (name: string): readonly number[] => {
    const figures = taken.get(name);
    if (figures === undefined) throw new Error(`there is no measure ${name}`);
    return figures;
  };
  return {
    figures: measures.map(({ name, unit }) => ({ ...spread(name, figuresOf(name)), unit })),
    ratios: ratios.map(({ name, of, over, goal }) => {
      const below = figuresOf(over);
      const found = spread(
        name,
        figuresOf(of).map((figure, round) => figure / (below[round] ?? NaN)),
      );
      return goal === undefined ? found : { ...found, goal, reached: reaches(found.value, goal) };
    }),
  };
}

function reaches(value: number, goal: Goal): boolean {
  return 'atLeast' in goal ? value >= goal.atLeast : value <= goal.atMost;
}

function spread(name: string, values: readonly number[]): Spread {
  return { name, value: median(values), runs: values.length, min: Math.min(...values), max: Math.max(...values) };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? NaN) + upper) / 2;
}
