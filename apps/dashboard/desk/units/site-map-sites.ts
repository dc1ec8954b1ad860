import type { Schemas } from '../api/client.js';
import { budgetsOfSite } from './budget-of.js';
import { type Budget, leftInWords } from './budget-words.js';
import { type PlacedSite, sizeFromPads } from './site-map-geometry.js';
import { deviceInWords } from './site-words.js';
import type { AssemblyDesign, PartDesign } from './unit-queries.js';

/** A site of a board with what its map shows of it. */
export interface MappedSite extends PlacedSite {
  /** The excursions that are drawn: of the device or, on a bare site, of the site. */
  readonly budget: Budget | undefined;
  readonly held: boolean;
  /** All that is drawn, in words. */
  readonly words: string;
}

/** What the map takes of a unit: who sits where, what is spent, and what is held. */
interface MappedUnit {
  readonly sites: readonly MappedPlace[];
  readonly budgets: Schemas['Unit']['budgets'];
  readonly holds: readonly Pick<Schemas['Unit']['holds'][number], 'subject'>[];
}

type MappedPlace = Pick<Schemas['Site'], 'refdes' | 'device'>;

/** The sites that the assembly has, with what the unit's book says of them. @param parts those that are known, by name */
export function mapSites(
  unit: MappedUnit,
  design: Pick<AssemblyDesign, 'sites'>,
  parts: ReadonlyMap<string, Pick<PartDesign, 'lengthMm' | 'widthMm'>>,
): readonly MappedSite[] {
  return design.sites.map((placed) => {
    const { refdes, side, xMm, yMm, neighbours } = placed;
    const part = parts.get(placed.part);
    const guessMm = sizeFromPads(placed);
    const size = { lengthMm: part?.lengthMm ?? guessMm, widthMm: part?.widthMm ?? guessMm };
    const site = unit.sites.find((one) => one.refdes === refdes);
    const budget = site === undefined ? undefined : drawnBudget(unit, site);
    const held = site !== undefined && isHeld(unit, site);
    const words = inWords(refdes, site, budget, held);
    return { refdes, side, xMm, yMm, neighbours: neighbours ?? [], ...size, budget, held, words };
  });
}

function drawnBudget(unit: MappedUnit, site: MappedPlace): Budget | undefined {
  const { device, site: ofSite } = budgetsOfSite(unit.budgets, site);
  return device ?? ofSite.find(({ limit }) => limit === 'site-excursions');
}

function isHeld({ holds }: MappedUnit, { refdes, device }: MappedPlace): boolean {
  return holds.some(
    ({ subject }) =>
      (subject.kind === 'site' && subject.refdes === refdes) ||
      (subject.kind === 'device' && subject.device === device),
  );
}

function inWords(refdes: string, site: MappedPlace | undefined, budget: Budget | undefined, held: boolean): string {
  const on = site?.device === null || site === undefined ? 'no device' : deviceInWords(site.device, refdes);
  const left = budget === undefined ? '' : `: ${leftOf(budget)}`;
  return `${refdes}, ${on}${left}${held ? '; held' : ''}`;
}

function leftOf(budget: Budget): string {
  const { figure, of } = leftInWords(budget);
  const whose = budget.limit === 'device-excursions' ? '' : ' for the site';
  const possible = budget.possible > 0 ? `, ${budget.possible} possible` : '';
  return `${budget.used} ${budget.used === 1 ? 'excursion' : 'excursions'}, ${figure} ${of}${whose}${possible}`;
}
