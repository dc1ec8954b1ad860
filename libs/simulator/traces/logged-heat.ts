import { ThermocouplePosition } from '../../domain/events/heat.js';
import { Knot } from './heat-curve.js';

/** A bead of a heat: how slowly it follows and how hot it gets. */
export interface LoggedBead {
  readonly name: string;
  readonly position: ThermocouplePosition;
  readonly lagS: number;
  readonly peakC: number;
  /** What is wrong with its channel, if anything. */
  readonly fault?: 'not-connected' | 'dropout';
}

/** How a logger writes its file. */
export interface Logger {
  readonly perSecond: number;
  readonly time: 'seconds' | 'clock' | 'whole-seconds';
  readonly decimals?: 'comma';
  /** Writes mV across a type K thermocouple whose cold junction is at this temperature. */
  readonly coldJunctionC?: number;
}

/** A heat with what drives it, where its beads sit, and how its logger writes. */
export interface LoggedHeat {
  readonly name: string;
  readonly alloy: string;
  readonly drive: readonly Knot[];
  readonly beads: readonly LoggedBead[];
  readonly logger: Logger;
}
