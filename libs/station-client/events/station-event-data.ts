/** What stations may tell, as Heatbook reads it. A spec holds these shapes against those of the service. */

export type DressingMethod = 'braid' | 'vacuum' | 'fountain' | 'coupon';

export type DefectCode =
  | 'lifted-pad'
  | 'missing-pad'
  | 'scratched-mask'
  | 'thin-pad'
  | 'residual-solder'
  | 'bridge'
  | 'open'
  | 'head-in-pillow'
  | 'void'
  | 'misaligned'
  | 'contamination';

export type Technique = 'visual' | 'xray' | 'height-map' | 'xrf' | 'ionic' | 'electrical';

export type Storage = 'open' | 'dry-cabinet' | 'dry-pack';

export type HeatedPurpose = 'touch-up' | 'removal-attempt' | 'aborted' | 'other';

/** What every station event may say besides its own facts. */
export interface CommonData {
  readonly operator?: string;
  readonly clearance?: string;
  readonly note?: string;
  readonly lots?: {
    readonly flux?: string;
    readonly solder?: string;
    readonly paste?: string;
    readonly balls?: string;
  };
  readonly attachments?: readonly string[];
}

export interface UnitReceived extends CommonData {
  readonly workOrder?: string;
  readonly complaint?: string;
  readonly priorReflows?: number;
  readonly devices?: readonly {
    readonly refdes: string;
    readonly device?: string;
    readonly priorExcursions?: number;
  }[];
  readonly sites?: readonly { readonly refdes: string; readonly priorReworks?: number }[];
}

export interface DeviceReceived extends CommonData {
  readonly part: string;
  readonly lot?: string;
  readonly dateCode?: string;
  readonly owner?: string;
  readonly priorExcursions?: number;
  readonly packSealedAt?: string;
}

export interface Baked extends CommonData {
  readonly temperatureC: number;
  readonly relativeHumidityPct?: number;
  readonly startedAt: string;
  readonly endedAt: string;
  readonly interruptedMinutes?: number;
}

export interface ExposureChanged extends CommonData {
  readonly ambientC?: number;
  readonly relativeHumidityPct?: number;
  readonly storage: Storage;
}

export interface UnitReflowed extends CommonData {
  readonly side?: 'top' | 'bottom';
  readonly profile: ProfileRef;
  readonly heat: Heat;
}

export interface DeviceRemoved extends CommonData {
  readonly refdes: string;
  readonly device?: string;
  readonly fate: 'scrap' | 'keep';
  readonly profile: ProfileRef;
  readonly heat: Heat;
}

export interface SiteDressed extends CommonData {
  readonly refdes: string;
  readonly method: DressingMethod;
  readonly solderAlloy: string;
  readonly passes: number;
  /** The longest that one pad saw molten solder. */
  readonly contactSeconds: number;
  readonly solderC?: number;
  readonly flowing?: boolean;
  readonly flux?: string;
  readonly remnantHeightUm?: number;
  readonly nozzleSpeedMmPerS?: number;
  readonly profile?: ProfileRef;
  readonly heat?: Heat;
}

export interface DeviceDeballed extends CommonData {
  readonly method: DressingMethod;
  readonly solderAlloy?: string;
  readonly contactSeconds?: number;
  readonly solderC?: number;
  readonly heat?: Heat;
}

export interface DeviceReballed extends CommonData {
  readonly ballAlloy: string;
  readonly ballDiameterMm: number;
  readonly heat?: Heat;
}

export interface DevicePlaced extends CommonData {
  readonly refdes: string;
  readonly device: string;
  readonly part?: string;
  readonly attach: 'flux' | 'paste';
  readonly pasteAlloy?: string;
  readonly pasteVolumeMm3?: number;
  readonly profile: ProfileRef;
  readonly heat: Heat;
}

export interface SiteHeated extends CommonData {
  readonly refdes: string;
  readonly purpose: HeatedPurpose;
  readonly profile?: ProfileRef;
  readonly heat: Heat;
}

export interface SiteCleaned extends CommonData {
  readonly refdes: string;
  readonly agent: string;
}

export interface SiteRepaired extends CommonData {
  readonly refdes: string;
  readonly procedure: string;
  readonly pads: readonly string[];
}

export interface InspectionTarget {
  readonly kind: 'site' | 'device' | 'unit';
  readonly refdes?: string;
  readonly device?: string;
}

export interface InspectionRecorded extends CommonData {
  readonly target: InspectionTarget;
  readonly technique: Technique;
  readonly result: 'pass' | 'fail';
  readonly defects?: readonly { readonly code: DefectCode; readonly pads?: readonly string[] }[];
  readonly heightsUm?: readonly { readonly xMm: number; readonly yMm: number; readonly zUm: number }[];
  readonly voids?: readonly { readonly joint: string; readonly fraction: number }[];
  readonly leadPct?: number;
}

export interface BathAnalysed extends CommonData {
  readonly solderAlloy: string;
  readonly leadPct: number;
  readonly copperPct: number;
  readonly sampledAt: string;
}

/** Event type to its data. The whole vocabulary that stations may use. */
export interface StationEventData {
  'heatbook.unit.received.v1': UnitReceived;
  'heatbook.unit.baked.v1': Baked;
  'heatbook.unit.reflowed.v1': UnitReflowed;
  'heatbook.unit.shipped.v1': CommonData;
  'heatbook.unit.scrapped.v1': CommonData;
  'heatbook.device.received.v1': DeviceReceived;
  'heatbook.device.baked.v1': Baked;
  'heatbook.device.removed.v1': DeviceRemoved;
  'heatbook.device.deballed.v1': DeviceDeballed;
  'heatbook.device.reballed.v1': DeviceReballed;
  'heatbook.device.placed.v1': DevicePlaced;
  'heatbook.device.scrapped.v1': CommonData;
  'heatbook.exposure.started.v1': ExposureChanged;
  'heatbook.exposure.stopped.v1': ExposureChanged;
  'heatbook.site.dressed.v1': SiteDressed;
  'heatbook.site.heated.v1': SiteHeated;
  'heatbook.site.cleaned.v1': SiteCleaned;
  'heatbook.site.repaired.v1': SiteRepaired;
  'heatbook.inspection.recorded.v1': InspectionRecorded;
  'heatbook.bath.analysed.v1': BathAnalysed;
}

export type StationEventType = keyof StationEventData;

type SubjectKind = 'unit' | 'device' | 'station';

/** Which kinds of subject each event may be about. */
export const EVENT_SUBJECTS: { readonly [T in StationEventType]: readonly SubjectKind[] } = {
  'heatbook.unit.received.v1': ['unit'],
  'heatbook.unit.baked.v1': ['unit'],
  'heatbook.unit.reflowed.v1': ['unit'],
  'heatbook.unit.shipped.v1': ['unit'],
  'heatbook.unit.scrapped.v1': ['unit'],
  'heatbook.device.received.v1': ['device'],
  'heatbook.device.baked.v1': ['device'],
  'heatbook.device.removed.v1': ['unit'],
  'heatbook.device.deballed.v1': ['device'],
  'heatbook.device.reballed.v1': ['device'],
  'heatbook.device.placed.v1': ['unit'],
  'heatbook.device.scrapped.v1': ['device'],
  'heatbook.exposure.started.v1': ['unit', 'device'],
  'heatbook.exposure.stopped.v1': ['unit', 'device'],
  'heatbook.site.dressed.v1': ['unit'],
  'heatbook.site.heated.v1': ['unit'],
  'heatbook.site.cleaned.v1': ['unit'],
  'heatbook.site.repaired.v1': ['unit'],
  'heatbook.inspection.recorded.v1': ['unit', 'device'],
  'heatbook.bath.analysed.v1': ['station'],
};

export type ThermocouplePosition = 'joint' | 'body' | 'die' | 'board' | 'air';

/** What one thermocouple saw of a heat. Temperatures in C, times in s, slopes in C/s. */
export interface ThermocoupleSummary {
  readonly id: string;
  /** The site it was on; left out where it was on the step's own site. */
  readonly refdes?: string;
  readonly position: ThermocouplePosition;
  readonly peakC: number;
  readonly secondsAboveLiquidus?: number;
  readonly liquidusC?: number;
  readonly maxRiseCPerS?: number;
  readonly maxFallCPerS?: number;
  readonly uncertaintyC?: number;
}

/** One time-temperature exposure as its station summed it up. */
export interface Heat {
  readonly startedAt: string;
  readonly endedAt: string;
  readonly thermocouples: readonly ThermocoupleSummary[];
  /** Name of the trace file it was read from. */
  readonly trace?: string;
}

export interface ProfileRef {
  readonly name: string;
  readonly revision: string;
}
