import { DressingMethod } from '../events/station-event.js';
import { positive } from '../lead/checked-figure.js';
import { SiteDesign } from '../setup/setup-data.js';

/** A fact of the trade and where it comes from. */
export interface TradeFact {
  readonly text: string;
  readonly source: string;
}

/** What a house takes of a method until its own figures say better. Every figure is an assumption. */
interface DressingFigures {
  /** Getting ready and cleaning up, minutes. */
  readonly setUpMinutes: number;
  /** The longest that one pad sees molten solder in a pass, s. */
  readonly contactSeconds: number;
  /** Even film left on a pad, um. */
  readonly filmUm: number;
  /** Fresh solder that a flush brings to a pad, as a multiple of a film of that thickness over it. */
  readonly flushFilms: number;
  /** What the method works with: the remnant is levelled, or replaced by the bath's solder. */
  readonly remnant: 'levelled' | 'replaced';
  /** At the die of a device that is worked on, C; absent where nobody said. */
  readonly dieC?: { readonly typical: number; readonly most: number };
}

export interface DressingMethodFacts extends DressingFigures {
  readonly method: DressingMethod;
  readonly facts: readonly TradeFact[];
  readonly cautions: readonly string[];
}

const PRACTICE = 'common practice, no source';
const ARTICLE = 'trade article, SMT007 May 2021 pp. 88-90';

const SAFETY = [
  'Extract fumes at the source, wear eye protection, and mind burns: local safety rules come first.',
  'Handle leaded solder and its dross by local rules: no food, wash hands, collect the waste.',
  'Work at a grounded place with ESD-safe tools.',
] as const;

/**
 * The four ways to level a site. Figures are house assumptions within what is said of each method; films lie within the
 * 10 to 50 um that are given after wicking (from memory).
 */
export const DRESSING_METHOD_FACTS: Readonly<Record<DressingMethod, DressingMethodFacts>> = {
  braid: {
    method: 'braid',
    setUpMinutes: 3,
    contactSeconds: 5,
    filmUm: 20,
    flushFilms: 25,
    remnant: 'levelled',
    dieC: { typical: 150, most: 180 },
    facts: [
      { text: 'Quick and cheap, but it lives by the skill of the operator.', source: PRACTICE },
      { text: 'On a SAC device it shows about 150 C at the die, 180 C at most: no excursion.', source: PRACTICE },
      { text: 'Braid near the width of the pad or of two to three balls; dabbed, not dragged.', source: ARTICLE },
    ],
    cautions: [
      ...SAFETY,
      'Dab, never drag: dragged braid lifts pads and scratches mask.',
      'Leave a thin coat: bare intermetallic oxidises and will not wet.',
    ],
  },
  vacuum: {
    method: 'vacuum',
    setUpMinutes: 6,
    contactSeconds: 4,
    filmUm: 30,
    flushFilms: 20,
    remnant: 'levelled',
    facts: [
      { text: 'Moves at about 3 mm/s with a nozzle as wide as the pad: slow.', source: PRACTICE },
      { text: 'Usually dry of flux, because nozzles clog; kind to pads and mask.', source: PRACTICE },
    ],
    cautions: [...SAFETY, 'No pressure on the pads. Keep the nozzle free of flux and solder, and empty its trap.'],
  },
  fountain: {
    method: 'fountain',
    setUpMinutes: 15,
    contactSeconds: 15,
    filmUm: 30,
    flushFilms: 20,
    remnant: 'replaced',
    dieC: { typical: 217, most: 230 },
    facts: [
      { text: 'Shows about 217 C at the die with peaks near 230 C: one excursion.', source: PRACTICE },
      { text: 'Thins pads, in SAC most.', source: PRACTICE },
    ],
    cautions: [
      ...SAFETY,
      'Flowing solder thins pads by the second: time the contact and stop early.',
      'The bath takes up copper and lead from every board: analyse it.',
      'Preheat the board, and mind parts on its other side.',
    ],
  },
  coupon: {
    method: 'coupon',
    setUpMinutes: 12,
    contactSeconds: 30,
    filmUm: 25,
    flushFilms: 20,
    remnant: 'levelled',
    facts: [
      { text: 'Serves one site once; the whole site melts together under hot gas.', source: PRACTICE },
      { text: 'Takes the whole site at once on a hot-gas nozzle; rarely used.', source: 'trade article' },
    ],
    cautions: [...SAFETY, 'A fresh coupon for every pass. Lift it only while all of the solder is molten.'],
  },
};

/** Speed of a vacuum nozzle, mm/s. Common practice, no source. */
const NOZZLE_MM_PER_S = 3;
/** Area that braid takes in a second with a tip of a few mm, mm2/s. House assumption. */
const BRAID_MM2_PER_S = 4;
/** Dwell of a pot or a coupon on the whole site with its ramp, minutes. House assumption. */
const WHOLE_SITE_MINUTES = { fountain: 1, coupon: 4 };

/** A site as its land pattern fills it: one pitch square per pad. */
export interface DressedArea extends Pick<SiteDesign, 'pads' | 'ballPitchMm' | 'padDiameterMm'> {
  /** Width of the vacuum nozzle, mm; absent: as wide as the pad. */
  readonly nozzleWidthMm?: number | undefined;
}

/**
 * Minutes to dress a site in so many passes, setting up once. Area is pads times pitch squared; a vacuum nozzle sweeps it
 * in strips of its width at 3 mm/s, braid takes 4 mm2 a second, a fountain and a coupon take the site at once. All are
 * house assumptions.
 * @throws RangeError where a length or count is not above 0.
 */
export function dressingMinutes(method: DressingMethod, site: DressedArea, passes = 1): number {
  const areaMm2 = positive(site.pads, 'pads') * positive(site.ballPitchMm, 'ball pitch in mm') ** 2;
  const widthMm = positive(site.nozzleWidthMm ?? site.padDiameterMm, 'nozzle width in mm');
  const { setUpMinutes } = DRESSING_METHOD_FACTS[method];
  return setUpMinutes + positive(passes, 'passes') * passMinutes(method, areaMm2, widthMm);
}

function passMinutes(method: DressingMethod, areaMm2: number, widthMm: number): number {
  switch (method) {
    case 'braid':
      return areaMm2 / BRAID_MM2_PER_S / 60;
    case 'vacuum':
      return areaMm2 / widthMm / NOZZLE_MM_PER_S / 60;
    case 'fountain':
    case 'coupon':
      return WHOLE_SITE_MINUTES[method];
  }
}
