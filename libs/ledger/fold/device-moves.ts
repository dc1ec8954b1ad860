import { Effect } from '../../domain/book/effect.js';

/** Effects of a unit's event that move a device: its own ledger tells of them too, so that its history travels with it. */
const MOVES: readonly Effect['kind'][] = ['mounted', 'unmounted', 'device-named'];

/** By device: what an event did to the devices that it moved. */
export function deviceMoves(effects: readonly Effect[]): ReadonlyMap<string, readonly Effect[]> {
  const moved = new Set(
    effects.flatMap((effect) => (MOVES.includes(effect.kind) && 'device' in effect ? [effect.device] : [])),
  );
  return new Map([...moved].map((device) => [device, effects.filter((effect) => isAbout(effect, device))]));
}

function isAbout(effect: Effect, device: string): boolean {
  if ('subject' in effect) return effect.subject.kind === 'device' && effect.subject.device === device;
  if (effect.kind === 'hold-called') {
    return effect.cause.subject.kind === 'device' && effect.cause.subject.device === device;
  }
  return 'device' in effect && effect.device === device;
}
