import { ThermocoupleKind } from '../heat/thermocouple-tolerance.js';
import { LimitKind, LimitRule } from '../limits/limit-rule.js';
import { Subject } from '../subject/subject.js';

export type Side = 'top' | 'bottom';
export const FINISHES = ['osp', 'enig', 'hasl', 'imag', 'imsn'] as const;
export const MOISTURE_LEVELS = ['1', '2', '2a', '3', '4', '5', '5a', '6'] as const;
export const SKILLS = [
  'braid',
  'vacuum',
  'fountain',
  'coupon',
  'removal',
  'placement',
  'reballing',
  'touch-up',
  'inspection',
] as const;
export type Skill = (typeof SKILLS)[number];

/** One land pattern of an assembly. Lengths in mm, copper in um. */
export interface SiteDesign {
  readonly refdes: string;
  readonly part: string;
  readonly side: Side;
  readonly pads: number;
  readonly padDiameterMm: number;
  readonly padCopperUm: number;
  readonly finish: (typeof FINISHES)[number];
  readonly ballPitchMm: number;
  readonly ballDiameterMm: number;
  readonly jointAlloy: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly underfilled?: boolean;
  readonly neighbours: readonly { readonly refdes: string; readonly gapMm: number }[];
}

export interface AssemblyDesign {
  readonly customer: string;
  readonly description: string;
  readonly leadFree: boolean;
  /**
   * Reflow passes that a device saw when the board was first built: one figure, or one by the side it sits on
   * (on a double-sided board the side soldered first sees both passes).
   */
  readonly assemblyReflows: number | { readonly top: number; readonly bottom: number };
  readonly sites: readonly SiteDesign[];
}

export interface PartData {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly msl: (typeof MOISTURE_LEVELS)[number];
  readonly ballAlloy: string;
  /** The maker's figure; it acts as a limit scoped to this part. */
  readonly maxExcursions?: number;
  readonly classificationC?: number;
  readonly moistureBarrier?: boolean;
}

export interface StationData {
  readonly kind: string;
  readonly calibrationDueAt?: string;
  readonly thermocouple?: ThermocoupleKind;
}

export interface OperatorData {
  readonly qualifications: readonly { readonly skill: Skill; readonly validUntil: string }[];
}

export interface ProfileWindow {
  readonly peakMinC?: number;
  readonly peakMaxC?: number;
  readonly aboveLiquidusMinS?: number;
  readonly aboveLiquidusMaxS?: number;
  readonly riseMaxCPerS?: number;
  readonly fallMaxCPerS?: number;
}

export interface ProfileData {
  readonly purpose: string;
  readonly alloy: string;
  readonly assembly?: string;
  readonly site?: string;
  readonly qualifiedAt?: string;
  readonly neighbourPeaks: readonly { readonly refdes: string; readonly peakC: number }[];
  readonly window?: ProfileWindow;
}

/** How fast one solder, named by the record, dissolves copper at 260 C, um/s: what the house measured itself. */
export interface CopperRateData {
  readonly flowingUmPerS: number;
  readonly stillUmPerS: number;
  /** How and on what it was measured. */
  readonly source: string;
}

/**
 * An exception that the customer approved, for one subject and one limit, named by its id. It holds for what happens from
 * `from` on; a revision with `withdrawn` ends it.
 */
export interface ConcessionData {
  readonly subject: Subject;
  readonly limit: LimitKind;
  /** In place of what the limit allows; looser. */
  readonly allowed: number;
  /** RFC 3339 UTC. */
  readonly from: string;
  /** How the customer names their approval. */
  readonly customerReference: string;
  readonly withdrawn: boolean;
}

/** How long what was done for a customer, named by the record, is kept. It decides over nothing that is judged. */
export interface RetentionData {
  /** Whole years from the last shipment or scrapping of a unit; left out: for ever. */
  readonly keepYears?: number;
  /** The contract or order that says so. */
  readonly contract: string;
  readonly note?: string;
}

/** Setup kinds to what each holds. A profile's name in the setup is `{profile}@{revision}`. */
export interface SetupData {
  assembly: AssemblyDesign;
  part: PartData;
  station: StationData;
  operator: OperatorData;
  profile: ProfileData;
  limit: LimitRule;
  'copper-rate': CopperRateData;
  concession: ConcessionData;
  retention: RetentionData;
}

export type SetupKind = keyof SetupData;
export const SETUP_KINDS: readonly SetupKind[] = [
  'assembly',
  'part',
  'station',
  'operator',
  'profile',
  'limit',
  'copper-rate',
  'concession',
  'retention',
];

/** A revision of one setup record as it was in force. */
export interface SetupRevision<K extends SetupKind> {
  readonly name: string;
  /** 1, 2, 3, … per record. */
  readonly revision: number;
  readonly body: SetupData[K];
}

/** The setup as it stood at one version: what the fold may look up. Lookups are by exact name. */
export interface Rules {
  /** Grows by one with every revision of any record. */
  readonly version: number;
  find<K extends SetupKind>(kind: K, name: string): SetupRevision<K> | undefined;
  /** The limits of a kind, each with the revisions it has had: newest first, at least one. */
  limits(kind: LimitKind): readonly (readonly SetupRevision<'limit'>[])[];
  /** Concessions for one subject (by `subjectKey`), those that were withdrawn too. */
  concessions(subject: string): readonly SetupRevision<'concession'>[];
}

export function profileName(profile: { readonly name: string; readonly revision: string }): string {
  return `${profile.name}@${profile.revision}`;
}

/** The profile revision of a name that `profileName` made; neither part has an `@`. */
export function profileRef(name: string): { readonly name: string; readonly revision: string } {
  const cut = name.lastIndexOf('@');
  return { name: name.slice(0, cut), revision: name.slice(cut + 1) };
}

/** Whole-board passes that a unit is taken to have seen when it was built: the most that any side saw. */
export function assumedReflows(design: AssemblyDesign): number {
  const passes = design.assemblyReflows;
  return typeof passes === 'number' ? passes : Math.max(passes.top, passes.bottom);
}

/** Excursions that a device on this side is taken to have seen when the board was built. */
export function assumedExcursions(design: AssemblyDesign, side: Side): number {
  const passes = design.assemblyReflows;
  return typeof passes === 'number' ? passes : passes[side];
}
