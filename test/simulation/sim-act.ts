import { Measured, Move, PROFILES, REFDES, Step, UNITS } from '../reference/gate-words.js';
import { Dice } from '../fuzz/dice.js';

/** What a client does next. */
export type SimAct =
  /** Posts facts, together. */
  | { readonly act: 'tell'; readonly facts: readonly SimFact[] }
  /** Asks for clearance, and then does so many of its steps, gives back what is left, or lets it lapse. */
  | {
      readonly act: 'ask';
      readonly subject: string;
      readonly steps: readonly Step[];
      readonly ttlSeconds: number;
      readonly isKeyed: boolean;
      readonly then: 'follow' | 'return' | 'leave';
    }
  | { readonly act: 'wait'; readonly ms: number };

export interface SimFact {
  readonly subject: string;
  readonly doing: Step | Move;
  readonly measured: Measured;
}

/**
 * Few boards and devices, so that clients meet on them.
 * @param moves chance that a step moves a device
 */
export function drawAct(dice: Dice, moves: number): SimAct {
  const kind = dice.below(10);
  if (kind < 4) return { act: 'tell', facts: Array.from({ length: 1 + dice.below(2) }, () => drawFact(dice, moves)) };
  if (kind < 5) return { act: 'wait', ms: dice.below(1500) };
  const { subject, doing } = drawStep(dice, moves);
  const more = dice.chance(0.2) && !subject.startsWith('devices/') ? [touchUp(dice)] : [];
  return {
    ...{ act: 'ask', subject, steps: [doing, ...more], ttlSeconds: dice.one([1, 5, 60]), isKeyed: dice.chance(0.8) },
    then: dice.one(['follow', 'follow', 'return', 'leave']),
  };
}

function drawFact(dice: Dice, moves: number): SimFact {
  const own = dice.chance(0.8) ? 'melts' : 'cool';
  return { ...drawStep(dice, moves), measured: { own, beside: dice.one(['cool', 'cool', 'melts', null]) } };
}

function drawStep(dice: Dice, moves: number): { readonly subject: string; readonly doing: Step } {
  const device = dice.one(['N1', 'N1', 'N2']);
  const subject = dice.one([UNITS[0], ...UNITS]);
  if (dice.chance(moves)) return { subject, doing: move(dice, device) };
  const kind = dice.below(10);
  if (kind < 3) return { subject: `devices/${device}`, doing: { kind: 'reballing', device } };
  return { subject, doing: kind < 4 ? { kind: 'pass' } : touchUp(dice) };
}

function move(dice: Dice, device: string): Step {
  const site = dice.one(REFDES);
  if (dice.chance(0.5)) return { kind: 'removal', site, fate: 'keep', profile: 'HOT' };
  return { kind: 'placement', site, device, profile: 'HOT' };
}

function touchUp(dice: Dice): Step {
  return { kind: 'touch-up', site: dice.one(REFDES), profile: dice.one(PROFILES) };
}
