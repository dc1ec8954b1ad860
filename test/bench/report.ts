import { BenchCase, Goal, Note } from './bench-case.js';
import { Machine } from './machine.js';
import { FigureSpread, Findings, RatioSpread } from './take-turns.js';

/** What one case came to. */
export interface CaseReport extends Findings {
  readonly title: string;
  readonly what: string;
  readonly notes: readonly Note[];
}

export function reportOf(bench: Pick<BenchCase, 'title' | 'what' | 'notes'>, findings: Findings): CaseReport {
  return { title: bench.title, what: bench.what, ...findings, notes: bench.notes?.() ?? [] };
}

/** The report for a person to read. */
export function inWords({ title, what, figures, ratios, notes }: CaseReport): string {
  return [
    `\n${title}: ${what}`,
    ...figures.map(figureLine),
    ...notes.map(({ name, unit, value }) => `  ${shown(value).padStart(10)} ${unit.padEnd(9)} ${name}`),
    ...ratios.map(ratioLine),
    '',
  ].join('\n');
}

/** All cases of a run for a program to read. */
export function asJson(machine: Machine, reports: readonly CaseReport[]): string {
  const ratios = reports.flatMap((report) => report.ratios);
  const figures = reports.flatMap(({ figures: taken, notes }) => [
    ...taken,
    ...notes.map(({ name, unit, value }) => ({ name, unit, value, runs: 1, min: value, max: value })),
  ]);
  return `${JSON.stringify({ machine, ratios, figures }, null, 2)}\n`;
}

function figureLine({ name, unit, value, min, max }: FigureSpread): string {
  return `  ${shown(value).padStart(10)} ${unit.padEnd(9)} ${name} (${shown(min)} to ${shown(max)})`;
}

function ratioLine({ name, value, min, max, goal, reached }: RatioSpread): string {
  const aim = goal === undefined ? '' : `, goal ${goalText(goal)}: ${reached === true ? 'reached' : 'not reached'}`;
  return `  ${shown(value).padStart(10)} x         ${name} (${shown(min)} to ${shown(max)})${aim}`;
}

function goalText(goal: Goal): string {
  return 'atLeast' in goal ? `at least ${goal.atLeast}` : `at most ${goal.atMost}`;
}

/** Three digits that mean something; whole numbers above a thousand. */
function shown(value: number): string {
  return Math.abs(value) >= 1000 ? value.toFixed(0) : String(Number(value.toPrecision(3)));
}
