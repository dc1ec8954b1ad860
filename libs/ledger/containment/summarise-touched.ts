import { Touched } from './touched.js';

/** What a cause reached, in figures. */
export interface TouchedSummary {
  readonly units: number;
  /** Loose ones; those on units count with these. */
  readonly devices: number;
  readonly byCustomer: Readonly<Record<string, number>>;
  readonly byState: Readonly<Record<string, number>>;
  readonly firstAt: string | null;
  readonly lastAt: string | null;
}

export function summariseTouched(touched: readonly Touched[]): TouchedSummary {
  const firsts = touched.map(({ firstAt }) => firstAt).sort();
  const lasts = touched.map(({ lastAt }) => lastAt).sort();
  return {
    units: touched.filter(({ subject }) => subject.kind === 'unit').length,
    devices: touched.filter(({ subject }) => subject.kind === 'device').length,
    byCustomer: counted(touched.flatMap(({ customer }) => customer ?? [])),
    byState: counted(touched.map(({ state }) => state)),
    firstAt: firsts[0] ?? null,
    lastAt: lasts.at(-1) ?? null,
  };
}

function counted(names: readonly string[]): Record<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
}
