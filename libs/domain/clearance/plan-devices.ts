import { siteIn } from '../book/evolve.js';
import { World } from '../book/state.js';
import { parseStream, StreamKey } from '../subject/subject.js';
import { PlannedStep } from './clearance.js';

/** The device on the bench as a plan goes along: what was last taken off to be kept, and whether it was worked on since. */
export class PlanDevices {
  private kept: string | null;
  private workedOn = false;

  constructor(
    private readonly world: World,
    private readonly subject: StreamKey,
  ) {
    const stream = parseStream(subject);
    this.kept = stream?.kind === 'device' ? stream.device : null;
  }

  /**
   * The device that the next step is for; null where none is named or known. A removal is of what the site carries, a step
   * on a loose device of what was last taken off, and a placement puts that back where it was got ready in this plan.
   */
  next(step: PlannedStep): string | null {
    switch (step.type) {
      case 'heatbook.device.removed.v1': {
        const device = step.device ?? this.carriedBy(step.refdes);
        this.kept = step.fate === 'scrap' ? null : device;
        this.workedOn = false;
        return device;
      }
      case 'heatbook.device.deballed.v1':
      case 'heatbook.device.reballed.v1': {
        const device = step.device ?? this.kept;
        this.workedOn = device === this.kept;
        return device;
      }
      case 'heatbook.device.placed.v1':
        return step.device ?? (this.workedOn ? this.kept : null);
      default:
        return null;
    }
  }

  private carriedBy(refdes = ''): string | null {
    const unit = this.world.units.get(this.subject);
    return unit === undefined ? null : (siteIn(unit, refdes)?.device ?? null);
  }
}
