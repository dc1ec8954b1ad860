import { MoistureLedger } from './moisture-ledger.js';

/** Hours above 90 C that a loose part may see in all its bakes, for the sake of its leads or balls. */
const ALLOWED_H = 96;

export interface LooseBake {
  readonly usedH: number;
  readonly allowedH: number;
  readonly remainingH: number;
  readonly exceeded: boolean;
  readonly reference: string;
}

/** What a loose part has left of the hours above 90 C; board bakes do not count. J-STD-033, from memory. */
export function looseBake(ledger: MoistureLedger): LooseBake {
  const usedH = ledger.looseBakeH;
  const remainingH = Math.max(0, ALLOWED_H - usedH);
  const reference = 'J-STD-033, cumulative bake of loose parts, from memory';
  return { usedH, allowedH: ALLOWED_H, remainingH, exceeded: usedH > ALLOWED_H, reference };
}
