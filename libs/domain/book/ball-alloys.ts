import { Judgement } from './judgement.js';
import { DeviceState } from './state.js';

/** What the balls are of, or were: the maker's alloy unless they were put on anew. */
export function ballAlloys(j: Judgement, device: DeviceState): string[] {
  if (device.balls.state === 'reballed') return [device.balls.alloy];
  const part = device.part === null ? undefined : j.rules.find('part', device.part);
  return part === undefined ? [] : [part.body.ballAlloy];
}
