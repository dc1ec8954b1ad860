import { bakeSufficiency, requiredBake } from './bake.js';
import { MoisturePart } from './moisture-part.js';
import { MoistureRun, RunRules } from './moisture-run.js';
import { HOUR_MS } from './moisture-time.js';

/** Judges the bakes of a part by the table of J-STD-033. */
export function tableBake(part: MoisturePart): RunRules['judgeBake'] {
  return (bake, run) => {
    const { temperatureC } = bake;
    return bakeSufficiency(bake, requiredBake({ ...part, temperatureC, exceededByH: excessH(run) }));
  };
}

/** Hours past the end of the floor life; null where its start, and so its end, is not known. */
export function excessH(run: MoistureRun): number | null {
  return run.start.kind === 'unknown' ? null : run.exceededMs / HOUR_MS;
}
