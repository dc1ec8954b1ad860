import { nonNegative } from './checked-figure.js';
import { leadedAlloy, UnknownAlloy, unknownAlloy } from './lead-fraction.js';
import { cleanParts, LeadJoint } from './lead-in-joint.js';
import { padAreaMm2 } from './solder-volume.js';

export type MostFilm =
  | { readonly kind: 'film'; readonly filmUm: number; readonly remnantMg: number; readonly why: string }
  /** Any film passes: the remnant holds no more lead than is allowed. None: ball and paste alone hold too much. */
  | { readonly kind: 'any' | 'none'; readonly why: string };

/** A joint whose film is asked for. */
export interface FilmQuestion extends Pick<LeadJoint, 'ball' | 'padDiameterMm' | 'paste'> {
  readonly remnantAlloy: string;
}

/**
 * The thickest even film of the remnant, um, with which the finished joint still holds no more than `limitPct` wt% lead:
 * (m f + lead of ball and paste) / (m + their mass) = limit, solved for the mass m of the film.
 * @throws RangeError where a figure does not fit.
 */
export function mostFilmUm(question: FilmQuestion, limitPct: number): MostFilm | UnknownAlloy {
  const limit = nonNegative(limitPct, 'lead limit in wt%') / 100;
  const remnant = leadedAlloy(question.remnantAlloy);
  if (remnant === undefined) return unknownAlloy(question.remnantAlloy);
  const clean = cleanParts(question);
  if ('kind' in clean) return clean;
  const cleanMg = clean.reduce((sum, { massMg }) => sum + massMg, 0);
  const spareMg = limit * cleanMg - clean.reduce((sum, { leadMg }) => sum + leadMg, 0);
  const areaMm2 = padAreaMm2(question.padDiameterMm);
  if (spareMg < 0) return { kind: 'none', why: `ball and paste alone hold more than ${limitPct} wt% lead` };
  if (remnant.leadFraction <= limit) {
    return { kind: 'any', why: `${remnant.name} holds no more than ${limitPct} wt% lead itself` };
  }
  const remnantMg = spareMg / (remnant.leadFraction - limit);
  const filmUm = (remnantMg / (remnant.densityGPerCm3 * areaMm2)) * 1000;
  return { kind: 'film', filmUm, remnantMg, why: `lead of ${remnant.name} against ${limitPct} wt% of the joint` };
}
