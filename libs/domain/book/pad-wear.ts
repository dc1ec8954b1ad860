import { CopperContact, remainingCopper, RemainingCopper } from '../copper/remaining-copper.js';
import { DEFAULT_RATES, RateTable, withRates } from '../copper/rate-table.js';
import { ALLOY_NAMES } from '../heat/alloys.js';
import { Breach, breachOf } from '../limits/breach.js';
import { ResolvedLimit } from '../limits/resolve-limit.js';
import { Rules } from '../setup/setup-data.js';
import { SiteDressed } from '../events/station-event.js';
import { Judgement, SiteContext, tellBreach } from './judgement.js';
import { ruleFor } from './station-rules.js';

/** Joint temperature taken for a placement that nobody measured, C: common practice, no source. */
const PLACEMENT_C = 240;

/** Molten solder on the pads while a site was dressed. */
export function dressingContact(data: SiteDressed): CopperContact {
  const { method, solderAlloy, contactSeconds, solderC, flowing } = data;
  return {
    kind: 'dressing',
    what: `${method} dressing`,
    method,
    solderAlloy,
    contactSeconds,
    ...(solderC !== undefined && { solderC }),
    ...(flowing !== undefined && { flowing }),
  };
}

/** A fresh volume of solder that melts onto the pads when a device is placed. */
export function placementContact(solderAlloy: string, jointPeakC: number | undefined): CopperContact {
  return {
    kind: 'closed-joint',
    what: 'placement',
    solderAlloy,
    solderC: jointPeakC ?? PLACEMENT_C,
    freshSolder: true,
  };
}

/**
 * Keeps a contact and judges what copper the pads have left. The figure is an estimate from the table of rates, and the
 * hold says so; a nickel finish is not modelled, and an unknown rate only makes the figure an upper bound.
 */
export function wearPads(j: Judgement, at: SiteContext, contact: CopperContact): void {
  j.emit({ kind: 'solder-contact', unit: at.key, refdes: at.refdes, contact });
  const limit = at.siteDesign && ruleFor(j, 'pad-copper-min', at.siteSubject);
  const breach = limit && copperBreach(at, j.rules, limit);
  if (breach !== undefined) tellBreach(j, at.siteSubject, breach);
}

/** What shows that the pads of a site have less copper left than a limit asks for, by estimate. */
export function copperBreach(
  at: Pick<SiteContext, 'refdes' | 'site' | 'siteDesign'>,
  rules: Rules,
  limit: ResolvedLimit,
): Breach | undefined {
  const left = padCopper(at, rules);
  const { allowed } = limit;
  if (left?.leftUm == null || typeof allowed !== 'number' || left.leftUm >= allowed) return undefined;
  return breachOf(limit, {
    summary: `The pads of ${at.refdes} have ${left.leftUm.toFixed(1)} um of copper left of ${String(left.startUm)} um by estimate (rates: ${left.basis}), where ${String(allowed)} um is the least.`,
    remedy:
      'Measure the copper on a pad, or enter measured rates (PUT /v1/copper-rates); then have quality decide whether the site may be used.',
    details: left.rows.map(
      ({ what, lostUm, why }) =>
        `${what}: ${lostUm === null ? 'not known' : `${lostUm.toFixed(2)} um`} (${why.join('; ')})`,
    ),
  });
}

/** The rates that the house measured, and the assumed ones for every other solder. */
export function ratesOf(rules: Rules): RateTable {
  const measured = ALLOY_NAMES.flatMap((alloy) => {
    const rate = rules.find('copper-rate', alloy)?.body;
    return rate === undefined ? [] : [[alloy, { ...rate, label: 'measured' }] as const];
  });
  return measured.length === 0 ? DEFAULT_RATES : withRates(DEFAULT_RATES, Object.fromEntries(measured));
}

/** Copper that the pads of a site have left by what the book knows; undefined where the assembly has no such site. */
export function padCopper(at: Pick<SiteContext, 'site' | 'siteDesign'>, rules: Rules): RemainingCopper | undefined {
  return at.siteDesign && remainingCopper(at.siteDesign, at.site.contacts, ratesOf(rules));
}
