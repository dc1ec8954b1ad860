import { MoistureClock } from './moisture-clock.js';
import { isWithinFloorLife } from './unit-clock.js';

/** Body temperature up to which a board need not be dry in local rework, C, top centre. J-STD-033, published. */
const DRY_BOARD_ABOVE_C = 200;

export interface DryNeed {
  readonly needed: boolean;
  readonly bodyPeakC: number;
  readonly aboveC: number;
  readonly reference: string;
}

export interface KnownDry {
  readonly dry: boolean;
  /** `floor-life`: by its clock; `board-bake`: by the bake that shops give a board, a practice and no standard's table. */
  readonly by: 'floor-life' | 'board-bake' | null;
  readonly why: string;
  readonly remedy: string | null;
}

/**
 * Whether a body that got this hot in local rework wants a board that was dry before.
 * @throws RangeError where the peak is no finite number.
 */
export function needsDryBoard(bodyPeakC: number): DryNeed {
  if (!Number.isFinite(bodyPeakC)) throw new RangeError(`not a body temperature in C: ${bodyPeakC}`);
  const reference = 'J-STD-033, local rework: up to 200 C at the top centre of the body, published';
  return { needed: bodyPeakC > DRY_BOARD_ABOVE_C, bodyPeakC, aboveC: DRY_BOARD_ABOVE_C, reference };
}

/** Whether a device, or a unit with all that sits on it, is known to be dry. Unknown is not known to be dry. */
export function isKnownDry(clock: Pick<MoistureClock, 'state' | 'boardDry' | 'why' | 'remedy'>): KnownDry {
  const { why } = clock;
  if (isWithinFloorLife(clock.state)) return { dry: true, by: 'floor-life', why, remedy: null };
  if (clock.state === 'unknown' && clock.boardDry) {
    return {
      dry: true,
      by: 'board-bake',
      why: `baked as boards are by practice; of its floor life: ${why}`,
      remedy: null,
    };
  }
  return { dry: false, by: null, why, remedy: clock.remedy };
}
