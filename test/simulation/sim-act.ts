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

/** Few boards and devices, so that clients meet on them; mostly heats, and now and then a device that moves. */
export function drawAct(dice: Dice): SimAct {
  const kind = dice.below(10);
  if (kind < 4) return { act: 'tell', facts: Array.from({ length: 1 + dice.below(2) }, () => drawFact(dice)) };
  if (kind < 5) return { act: 'wait', ms: dice.below(1500) };
  const { subject, doing } = drawStep(dice);
  const more = dice.chance(0.2) && !subject.startsWith('devices/') ? [touchUp(dice)] : [];
  return {
    ...{ act: 'ask', subject, steps: [doing, ...more], ttlSeconds: dice.one([1, 5, 60]), isKeyed: dice.chance(0.8) },
    then: dice.one(['follow', 'follow', 'return', 'leave']),
  };
}

function drawFact(dice: Dice): SimFact {
  const melts = dice.chance(0.8) ? 'melts' : 'cool';
  return { ...drawStep(dice), measured: { own: melts, beside: dice.one(['cool', 'cool', 'melts', null]) } };
}

function drawStep(dice: Dice): { readonly subject: string; readonly doing: Step } {
  const kind = dice.below(10);
  const device = dice.one(['N1', 'N1', 'N2']);
  if (kind < 3) return { subject: `devices/${device}`, doing: { kind: 'reballing', device } };
  const subject = dice.one([UNITS[0], ...UNITS]);
  if (kind < 4) return { subject, doing: { kind: 'pass' } };
  const site = dice.one(REFDES);
  if (kind < 5) return { subject, doing: { kind: 'removal', site, fate: 'keep', profile: 'HOT' } };
  if (kind < 6) return { subject, doing: { kind: 'placement', site, device, profile: 'HOT' } };
  return { subject, doing: touchUp(dice) };
}

function touchUp(dice: Dice): Step {
  return { kind: 'touch-up', site: dice.one(REFDES), profile: dice.one(PROFILES) };
}
