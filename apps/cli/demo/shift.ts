import { freeLane, Lane, makeLanes } from './lane.js';
import { ShiftLog } from './shift-log.js';
import { onSecondDay } from './shift-time.js';
import { UnitJob } from './unit-job.js';

/** The house at work: its benches and its log. Boards are taken up in the order in which stories ask for them. */
export class Shift {
  private readonly lanes: readonly [Lane, ...Lane[]] = makeLanes(onSecondDay(5, 30));
  private receipts = 0;

  constructor(readonly log: ShiftLog) {}

  /** A board that came in on the first afternoon and goes to the bench that is free first. */
  board(assembly: string, serial: string): UnitJob {
    this.receipts += 1;
    return new UnitJob(this.log, assembly, serial, freeLane(this.lanes), this.receipts * 2);
  }
}
