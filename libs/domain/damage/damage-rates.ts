import { Interval, wilson } from './wilson.js';

/** Work done under one combination of operator, method and station, and how much of it was found damaged. */
export interface DamageRow {
  readonly operator?: string | undefined;
  readonly method?: string | undefined;
  readonly station?: string | undefined;
  /** Sites worked on and inspected. */
  readonly sites: number;
  readonly damaged: number;
}

const GROUPINGS = ['operator', 'method', 'station'] as const;

interface DamageRate {
  readonly by: (typeof GROUPINGS)[number];
  readonly name: string;
  readonly sites: number;
  readonly damaged: number;
  readonly rate: number;
  /** Wilson, 95 %. */
  readonly interval: Interval;
  /** `above`: the whole interval lies above the house rate, so retraining is worth a look. */
  readonly verdict: 'above' | 'within' | 'below' | 'too-few';
  readonly why: string;
}

export interface DamageRates {
  /** null where nothing was done. */
  readonly houseRate: number | null;
  readonly houseRateFrom: 'given' | 'all rows';
  readonly rates: readonly DamageRate[];
}

/** Fewer sites, or for a flag fewer damaged ones, say nothing of a person. House choice. */
const FEWEST_SITES = 10;
const FEWEST_DAMAGED = 2;

/**
 * Damage rates by operator, by method and by station, each with its Wilson interval and held against the house rate (0 to
 * 1; left out, the rate over all rows). A group needs ten sites, and a flag two damaged ones: one mishap of a beginner is
 * no trend. At 95 % about one group in forty is flagged by chance. Rows that do not name an operator, method or station
 * take no part in that grouping.
 * @throws RangeError where counts do not fit or the house rate is not between 0 and 1.
 */
export function damageRates(rows: readonly DamageRow[], houseRate?: number): DamageRates {
  if (houseRate !== undefined && !(houseRate >= 0 && houseRate <= 1)) {
    throw new RangeError(`not a damage rate: ${houseRate}`);
  }
  const all = totals(rows);
  const house = houseRate ?? (all.sites === 0 ? null : all.damaged / all.sites);
  const rates = GROUPINGS.flatMap((by) =>
    [...grouped(rows, by)].map(([name, members]) => rateOf(by, name, totals(members), house)),
  );
  return { houseRate: house, houseRateFrom: houseRate === undefined ? 'all rows' : 'given', rates };
}

function grouped(rows: readonly DamageRow[], by: DamageRate['by']): Map<string, DamageRow[]> {
  const groups = new Map<string, DamageRow[]>();
  for (const row of rows) {
    const name = row[by];
    if (name === undefined) continue;
    const members = groups.get(name);
    if (members === undefined) groups.set(name, [row]);
    else members.push(row);
  }
  return groups;
}

interface Totals {
  readonly sites: number;
  readonly damaged: number;
}

function totals(rows: readonly DamageRow[]): Totals {
  let [sites, damaged] = [0, 0];
  for (const row of rows) {
    if (!Number.isSafeInteger(row.sites) || row.sites < 0) throw new RangeError(`not a count of sites: ${row.sites}`);
    if (!Number.isSafeInteger(row.damaged) || row.damaged < 0 || row.damaged > row.sites) {
      throw new RangeError(`not a count of damaged sites among ${row.sites}: ${row.damaged}`);
    }
    sites += row.sites;
    damaged += row.damaged;
  }
  return { sites, damaged };
}

function rateOf(by: DamageRate['by'], name: string, { sites, damaged }: Totals, house: number | null): DamageRate {
  const interval = wilson(damaged, sites);
  const rate = sites === 0 ? 0 : damaged / sites;
  return { by, name, sites, damaged, rate, interval, ...verdictOf(interval, { sites, damaged }, house) };
}

function verdictOf(interval: Interval, counts: Totals, house: number | null): Pick<DamageRate, 'verdict' | 'why'> {
  if (house === null || counts.sites < FEWEST_SITES) {
    return { verdict: 'too-few', why: `${counts.sites} sites are too few to tell (${FEWEST_SITES} are asked for)` };
  }
  const range = `${percent(interval.low)} to ${percent(interval.high)} %`;
  if (interval.low > house && counts.damaged >= FEWEST_DAMAGED) {
    return { verdict: 'above', why: `${range} lies above the house rate of ${percent(house)} %` };
  }
  if (interval.high < house)
    return { verdict: 'below', why: `${range} lies below the house rate of ${percent(house)} %` };
  return { verdict: 'within', why: `${range} does not lie above the house rate of ${percent(house)} %` };
}

function percent(share: number): string {
  return (100 * share).toFixed(1);
}
