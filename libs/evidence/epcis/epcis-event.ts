import { OwnTerm } from './own-terms.js';

/** The business steps of CBV 2.0 that a rework house takes. */
export type BizStep =
  | 'receiving'
  | 'repairing'
  | 'installing'
  | 'removing'
  | 'inspecting'
  | 'holding'
  | 'storing'
  | 'shipping'
  | 'destroying'
  | 'other';

/** The dispositions of CBV 2.0 that it can speak of. */
export type EpcisDisposition = 'conformant' | 'non_conformant' | 'non_sellable_other' | 'in_transit' | 'disposed';

export type EpcisAction = 'OBSERVE' | 'ADD' | 'DELETE';

/** `uom` by UN/ECE Recommendation 20: CEL degree Celsius, SEC second, MIN minute, P1 percent. */
export interface SensorReport {
  readonly type: 'Temperature' | 'Time' | 'RelativeHumidity';
  readonly deviceID?: string;
  readonly value?: number;
  readonly maxValue?: number;
  readonly uom: 'CEL' | 'SEC' | 'MIN' | 'P1';
  readonly [own: OwnTerm]: unknown;
}

export interface SensorElement {
  readonly sensorMetadata: {
    readonly time?: string;
    readonly startTime?: string;
    readonly endTime?: string;
    readonly rawData?: string;
  };
  readonly sensorReport: readonly SensorReport[];
}

/** What is done to what. */
export type EpcisFacts = {
  readonly action: EpcisAction;
  readonly bizStep: BizStep;
  readonly disposition?: EpcisDisposition;
  readonly bizTransactionList?: readonly { readonly type: 'prodorder'; readonly bizTransaction: string }[];
  readonly sensorElementList?: readonly SensorElement[];
} & (
  | { readonly type: 'ObjectEvent'; readonly epcList: readonly string[] }
  | { readonly type: 'AssociationEvent'; readonly parentID: string; readonly childEPCs: readonly string[] }
);

/** What an entry comes to, before it is dated and numbered. */
export interface EpcisStatement {
  readonly facts: EpcisFacts;
  /** Whether the things are still at the station afterwards. */
  readonly stays: boolean;
  /** Members under our own prefix. */
  readonly own?: Readonly<Record<OwnTerm, unknown>>;
}

/** One event of a document. Times are RFC 3339. */
export type EpcisEvent = EpcisFacts & {
  readonly eventID: string;
  readonly eventTime: string;
  readonly eventTimeZoneOffset: string;
  readonly recordTime: string;
  readonly errorDeclaration?: { readonly declarationTime: string; readonly [own: OwnTerm]: unknown };
  readonly readPoint?: { readonly id: string };
  readonly bizLocation?: { readonly id: string };
  readonly [own: OwnTerm]: unknown;
};
