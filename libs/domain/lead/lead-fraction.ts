import { Alloy, alloyNamed } from '../heat/alloys.js';

/** A solder the house knows, with its mass fraction of lead (0 to 1) as its name gives it. */
export interface LeadedAlloy extends Alloy {
  readonly name: string;
  readonly leadFraction: number;
}

export interface UnknownAlloy {
  readonly kind: 'unknown';
  readonly problem: 'unknown-alloy';
  readonly alloy: string;
  readonly detail: string;
  readonly remedy: string;
}

const LEAD_PCT = /Pb(\d+(?:\.\d+)?)/;

/** Lead in an alloy that the house knows: Sn63Pb37 0.37, Sn60Pb40 0.40, Sn62Pb36Ag2 0.36, 0 where its name has none. */
export function leadedAlloy(name: string): LeadedAlloy | undefined {
  const alloy = alloyNamed(name);
  if (alloy === undefined) return undefined;
  const pct = LEAD_PCT.exec(name)?.[1];
  return { ...alloy, name, leadFraction: pct === undefined ? 0 : Number(pct) / 100 };
}

export function unknownAlloy(alloy: string): UnknownAlloy {
  return {
    kind: 'unknown',
    problem: 'unknown-alloy',
    alloy,
    detail: `Density and lead of ${alloy} are not known.`,
    remedy: 'Name the alloy by one that the house knows, or measure the joint (XRF).',
  };
}
