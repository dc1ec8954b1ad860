import type { Schemas } from '../api/client.js';
import type { Budget } from './budget-words.js';

type Site = Schemas['Site'];

/** What may be spent at one site: by the device on it and by the site itself. */
export interface SiteBudgets {
  /** Undefined where no device is on the site, or another record has the device. */
  readonly device: Budget | undefined;
  /** Excursions, reworks and dressings of the site, as far as they are limited. */
  readonly site: readonly Budget[];
}

const SITE_ORDER: readonly Budget['limit'][] = ['site-excursions', 'site-reworks', 'site-dressings'];

/** The budgets of a site, out of all those of a unit. */
export function budgetsOfSite(budgets: readonly Budget[], site: Pick<Site, 'refdes' | 'device'>): SiteBudgets {
  const ofSite = budgets.filter(({ subject }) => subject.kind === 'site' && subject.refdes === site.refdes);
  return {
    device: budgets.find(({ subject }) => subject.kind === 'device' && subject.device === site.device),
    site: SITE_ORDER.flatMap((limit) => ofSite.filter((budget) => budget.limit === limit)),
  };
}

/** The budgets of the board as a whole. */
export function budgetsOfBoard(budgets: readonly Budget[]): readonly Budget[] {
  return budgets.filter(({ subject }) => subject.kind === 'unit');
}

/** The budgets that have least left, those over their limit first; what has no limit is not among them. */
export function tightest(budgets: readonly Budget[], most: number): readonly Budget[] {
  const left = ({ remaining }: Budget) => remaining ?? Infinity;
  return budgets
    .filter(({ remaining }) => remaining !== null)
    .toSorted((one, other) => left(one) - left(other))
    .slice(0, most);
}

/** Of what on a unit a budget is: `board`, `U1`, `device on U1`. */
export function whoseBudget({ sites }: Pick<Schemas['Unit'], 'sites'>, { subject }: Budget): string {
  if (subject.kind === 'unit') return 'board';
  if (subject.kind === 'site') return subject.refdes;
  const site = sites.find(({ device }) => device === subject.device);
  return site === undefined ? subject.device : `device on ${site.refdes}`;
}
