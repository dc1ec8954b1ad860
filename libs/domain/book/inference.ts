import { Basis } from './tally.js';

/** What is taken for granted of a subject that nothing was measured on. */
export interface Inference {
  readonly spends: 'one' | 'possible' | 'none';
  readonly basis: Basis;
  readonly why: string;
}

export function one(why: string): Inference {
  return { spends: 'one', basis: 'inferred', why };
}

export function none(why: string): Inference {
  return { spends: 'none', basis: 'inferred', why };
}
