import { nonNegative } from '../lead/checked-figure.js';
import { SiteDesign } from '../setup/setup-data.js';
import { closedJointLoss } from './closed-joint-loss.js';
import { copperLost, DressingContact } from './copper-lost.js';
import { DEFAULT_RATES, RateTable } from './rate-table.js';

/** Molten solder on the pads of a site, in the order it happened. `what` names it for the reader. */
export type CopperContact =
  | ({ readonly kind: 'dressing'; readonly what: string } & DressingContact)
  | {
      readonly kind: 'closed-joint';
      readonly what: string;
      readonly solderAlloy: string;
      readonly solderC: number;
      readonly moltenSeconds?: number | undefined;
      /** False: solder that has melted on this pad before melts again. */
      readonly freshSolder: boolean;
      /** Absent: the site's. */
      readonly ballDiameterMm?: number | undefined;
    };

interface CopperRow {
  readonly what: string;
  /** null: not known. */
  readonly lostUm: number | null;
  /** Left after it, um; at most this much where a loss before it is not known. */
  readonly leftUm: number;
  readonly basis: 'assumed' | 'measured';
  readonly why: readonly string[];
  readonly source: string;
}

/** What the pads of a site have left, and how well that is known. */
export interface RemainingCopper {
  /** um on the pad that saw most; null where the model does not apply. */
  readonly leftUm: number | null;
  readonly startUm: number;
  readonly lostUm: number;
  /** `at-most`: some contacts have no known loss and are not in the sum. */
  readonly certainty: 'estimate' | 'at-most' | 'not-modelled';
  readonly basis: 'assumed' | 'measured';
  readonly rows: readonly CopperRow[];
  readonly stops?: { readonly reason: 'nickel-finish'; readonly detail: string };
  readonly source: string;
}

type PadDesign = Pick<SiteDesign, 'padCopperUm' | 'padDiameterMm' | 'finish' | 'ballDiameterMm'>;
type Loss = Pick<CopperRow, 'lostUm' | 'basis' | 'why' | 'source'>;

/**
 * Copper left on the pads of a site after these contacts, um: what the design says less each loss, never below 0. Each
 * loss is that of the pad that saw most, and all are put on one pad: a lower bound for the others. Nickel over the
 * copper (ENIG) stops the model: solder meets nickel, whose wear is not modelled.
 * @throws RangeError where a figure of the design or a contact does not fit.
 */
export function remainingCopper(
  design: PadDesign,
  contacts: readonly CopperContact[],
  table: RateTable = DEFAULT_RATES,
): RemainingCopper {
  const startUm = nonNegative(design.padCopperUm, 'pad copper in um');
  if (design.finish === 'enig') return behindNickel(startUm, table);
  const rows: CopperRow[] = [];
  let leftUm = startUm;
  let takenByVolumeUm = 0;
  for (const contact of contacts) {
    if (contact.kind === 'dressing' || contact.freshSolder) takenByVolumeUm = 0;
    const loss =
      contact.kind === 'dressing' ? copperLost(contact, table) : jointLoss(contact, design, takenByVolumeUm, table);
    if (contact.kind === 'closed-joint') takenByVolumeUm += loss.lostUm ?? 0;
    leftUm = Math.max(0, leftUm - (loss.lostUm ?? 0));
    const { lostUm, basis, why, source } = loss;
    rows.push({ what: contact.what, lostUm, leftUm, basis, why, source });
  }
  return {
    leftUm,
    startUm,
    lostUm: startUm - leftUm,
    certainty: rows.some((row) => row.lostUm === null) ? 'at-most' : 'estimate',
    basis: rows.length > 0 && rows.every((row) => row.basis === 'measured') ? 'measured' : 'assumed',
    rows,
    source: [...new Set(rows.map((row) => row.source))].join(' ') || table.source,
  };
}

function behindNickel(startUm: number, table: RateTable): RemainingCopper {
  const detail =
    'Nickel lies between solder and copper: the copper model does not apply, and nickel wear is not modelled.';
  return {
    leftUm: null,
    startUm,
    lostUm: 0,
    certainty: 'not-modelled',
    basis: 'assumed',
    rows: [],
    stops: { reason: 'nickel-finish', detail },
    source: table.source,
  };
}

/** A joint takes what its solder still has room for: nothing at a second reflow that is no hotter. */
function jointLoss(
  contact: Extract<CopperContact, { kind: 'closed-joint' }>,
  design: PadDesign,
  takenByVolumeUm: number,
  table: RateTable,
): Loss {
  const { solderAlloy, solderC, moltenSeconds, ballDiameterMm = design.ballDiameterMm } = contact;
  const { padDiameterMm } = design;
  const loss = closedJointLoss({ solderAlloy, ballDiameterMm, padDiameterMm, solderC, moltenSeconds }, table);
  if (loss.kind === 'unknown') {
    return { lostUm: null, basis: 'assumed', why: [loss.detail, loss.remedy], source: table.saturation.source };
  }
  const roomUm = Math.max(0, loss.capUm - takenByVolumeUm);
  const why = contact.freshSolder
    ? loss.why
    : [...loss.why, 'the same solder melted here before: only what it lacks counts'];
  return { lostUm: Math.min(loss.lostUm, roomUm), basis: loss.basis, why, source: loss.source };
}
