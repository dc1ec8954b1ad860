import { nonNegative } from './checked-figure.js';
import { LeadedAlloy, leadedAlloy, UnknownAlloy, unknownAlloy } from './lead-fraction.js';
import { ballVolumeMm3, capVolumeMm3, filmVolumeMm3 } from './solder-volume.js';

/** Solder left on a pad: an even film after dressing, or the cap that a pulled device left. um. */
type Remnant = ({ readonly filmUm: number } | { readonly capHeightUm: number }) & {
  readonly alloy: string;
  /** Mass fraction, where an analysis (of the bath it came from) says better than the alloy's name. */
  readonly leadFraction?: number;
  /** Whether somebody measured its height. Absent: assumed. */
  readonly heightBasis?: 'measured' | 'assumed';
};

/** Fresh solder melted into the remnant, after which both are wicked to a film again. */
export interface Flush {
  readonly alloy: string;
  readonly volumeMm3: number;
  /** Left after wicking, um. */
  readonly filmUm: number;
}

/** Everything that melts together into one joint. Lengths in mm. */
export interface LeadJoint {
  readonly ball: { readonly diameterMm: number; readonly alloy: string };
  readonly padDiameterMm: number;
  readonly remnant: Remnant;
  /** Printed paste; metal is half its volume where `metalShare` does not say. */
  readonly paste?: { readonly alloy: string; readonly volumeMm3: number; readonly metalShare?: number };
  readonly flushes?: readonly Flush[];
}

export interface LeadPart {
  readonly name: 'remnant' | 'ball' | 'paste';
  readonly alloy: string;
  readonly massMg: number;
  readonly leadFraction: number;
  readonly leadMg: number;
}

export interface LeadEstimate {
  readonly kind: 'estimate';
  /** wt% of the whole joint. */
  readonly leadPct: number;
  readonly leadMg: number;
  readonly jointMg: number;
  readonly parts: readonly LeadPart[];
  /** Inferred from a measured remnant, or from an assumed one. It is never a measurement of lead. */
  readonly basis: 'inferred' | 'assumed';
  readonly why: readonly string[];
  readonly source: string;
}

/** Common share of metal in paste by volume. From memory; the worked figures use it. */
const PASTE_METAL_SHARE = 0.5;
const SOURCE = 'Mass balance of one joint, homogeneous; densities from makers’ sheets.';

/**
 * Lead in the finished joint, wt%: the lead of remnant, ball and paste over their masses. Each flush mixes fully with the
 * remnant (volumes add) and is wicked to its film. An alloy that the house does not know gives `unknown`.
 * @throws RangeError where a length, volume or share does not fit.
 */
export function leadInJoint(joint: LeadJoint): LeadEstimate | UnknownAlloy {
  const remnant = flushedRemnant(joint);
  if ('kind' in remnant) return remnant;
  const clean = cleanParts(joint);
  if ('kind' in clean) return clean;
  const parts = [remnant.part, ...clean];
  const jointMg = parts.reduce((sum, { massMg }) => sum + massMg, 0);
  const leadMg = parts.reduce((sum, part) => sum + part.leadMg, 0);
  return {
    kind: 'estimate',
    leadPct: (100 * leadMg) / jointMg,
    leadMg,
    jointMg,
    parts,
    basis: remnant.basis,
    why: remnant.why,
    source: SOURCE,
  };
}

/** What is not remnant: ball and paste. @throws RangeError as `leadInJoint`. */
export function cleanParts(joint: Pick<LeadJoint, 'ball' | 'paste'>): readonly LeadPart[] | UnknownAlloy {
  const { ball, paste } = joint;
  const ballAlloy = leadedAlloy(ball.alloy);
  if (ballAlloy === undefined) return unknownAlloy(ball.alloy);
  const parts = [part('ball', ballAlloy, ballVolumeMm3(ball.diameterMm))];
  if (paste === undefined) return parts;
  const pasteAlloy = leadedAlloy(paste.alloy);
  if (pasteAlloy === undefined) return unknownAlloy(paste.alloy);
  const share = nonNegative(paste.metalShare ?? PASTE_METAL_SHARE, 'metal share of the paste');
  if (share > 1) throw new RangeError(`metal share of the paste must be at most 1: ${share}`);
  return [...parts, part('paste', pasteAlloy, nonNegative(paste.volumeMm3, 'paste volume in mm3') * share)];
}

function part(name: LeadPart['name'], alloy: LeadedAlloy, volumeMm3: number): LeadPart {
  const massMg = volumeMm3 * alloy.densityGPerCm3;
  const { leadFraction } = alloy;
  return { name, alloy: alloy.name, massMg, leadFraction, leadMg: massMg * leadFraction };
}

interface FlushedRemnant {
  readonly part: LeadPart;
  readonly basis: 'inferred' | 'assumed';
  readonly why: readonly string[];
}

function flushedRemnant(joint: LeadJoint): FlushedRemnant | UnknownAlloy {
  const { remnant, padDiameterMm, flushes = [] } = joint;
  const alloy = leadedAlloy(remnant.alloy);
  if (alloy === undefined) return unknownAlloy(remnant.alloy);
  const leadFraction = nonNegative(remnant.leadFraction ?? alloy.leadFraction, 'lead fraction of the remnant');
  if (leadFraction > 1) throw new RangeError(`lead fraction of the remnant must be at most 1: ${leadFraction}`);
  let volumeMm3 =
    'filmUm' in remnant
      ? filmVolumeMm3(remnant.filmUm, padDiameterMm)
      : capVolumeMm3(remnant.capHeightUm, padDiameterMm);
  let solder = part('remnant', { ...alloy, leadFraction }, volumeMm3);
  const why = [
    'filmUm' in remnant
      ? `film of ${remnant.filmUm} um ${remnant.alloy}`
      : `cap of ${remnant.capHeightUm} um ${remnant.alloy}`,
  ];
  for (const flush of flushes) {
    const fresh = leadedAlloy(flush.alloy);
    if (fresh === undefined) return unknownAlloy(flush.alloy);
    const addedMm3 = nonNegative(flush.volumeMm3, 'flush volume in mm3');
    const mixedMm3 = volumeMm3 + addedMm3;
    // Wicking leaves no more than there was.
    volumeMm3 = Math.min(mixedMm3, filmVolumeMm3(flush.filmUm, padDiameterMm));
    solder = mixed(solder, part('remnant', fresh, addedMm3), mixedMm3 === 0 ? 0 : volumeMm3 / mixedMm3);
    why.push(`flushed with ${flush.volumeMm3} mm3 ${flush.alloy} and wicked to ${flush.filmUm} um`);
  }
  const measured = remnant.heightBasis === 'measured' && flushes.length === 0;
  if (!measured)
    why.push('film thickness assumed: 10 to 50 um after wicking, from memory. Measure it, or the joint (XRF).');
  return { part: solder, basis: measured ? 'inferred' : 'assumed', why };
}

/** The share of a homogeneous mixture that stays. */
function mixed(old: LeadPart, fresh: LeadPart, kept: number): LeadPart {
  const massMg = old.massMg + fresh.massMg;
  const leadMg = old.leadMg + fresh.leadMg;
  const alloy =
    old.alloy === fresh.alloy
      ? old.alloy
      : old.alloy.endsWith(` + ${fresh.alloy}`)
        ? old.alloy
        : `${old.alloy} + ${fresh.alloy}`;
  const leadFraction = massMg === 0 ? 0 : leadMg / massMg;
  return { name: 'remnant', alloy, massMg: massMg * kept, leadFraction, leadMg: leadMg * kept };
}
