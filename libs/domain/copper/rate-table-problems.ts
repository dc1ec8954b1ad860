import { RateTable } from './rate-table.js';

/** A figure in a table that no model can be made of. `pointer` is a JSON Pointer into the table. */
export interface RateTableProblem {
  readonly pointer: string;
  readonly detail: string;
}

/** What is wrong with a table that somebody entered; empty where it can be used. Bounds are house choices. */
export function rateTableProblems(table: RateTable): readonly RateTableProblem[] {
  const problems: RateTableProblem[] = [];
  const within = (pointer: string, value: number, least: number, most: number): void => {
    if (Number.isFinite(value) && value >= least && value <= most) return;
    problems.push({ pointer, detail: `must be a number from ${least} to ${most}` });
  };
  within('/activationJPerMol', table.activationJPerMol, 0, 200_000);
  within('/referenceC', table.referenceC, 100, 450);
  within('/validToC', table.validToC, 100, 450);
  for (const [alloy, rate] of Object.entries(table.rates)) {
    within(`/rates/${escaped(alloy)}/flowingUmPerS`, rate.flowingUmPerS, 0, 100);
    within(`/rates/${escaped(alloy)}/stillUmPerS`, rate.stillUmPerS, 0, 100);
  }
  for (const [method, practice] of Object.entries(table.practice)) {
    within(`/practice/${method}/solderC`, practice.solderC, 100, 450);
  }
  const { saturation } = table;
  within('/saturation/referenceC', saturation.referenceC, 100, 450);
  within('/saturation/saturatedPct', saturation.saturatedPct, 0, 10);
  within('/saturation/pctPerC', saturation.pctPerC, 0, 1);
  for (const [alloy, pct] of Object.entries(saturation.freshPct)) {
    within(`/saturation/freshPct/${escaped(alloy)}`, pct, 0, 10);
  }
  return problems;
}

/** RFC 6901. */
function escaped(key: string): string {
  return key.replaceAll('~', '~0').replaceAll('/', '~1');
}
