export const THERMOCOUPLE_POSITIONS = ['joint', 'body', 'die', 'board', 'air'] as const;
export type ThermocouplePosition = (typeof THERMOCOUPLE_POSITIONS)[number];

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
