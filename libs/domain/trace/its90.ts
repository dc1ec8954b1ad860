import { ThermocoupleKind } from '../heat/thermocouple-tolerance.js';
import { Hump, ITS90, Stretch } from './its90-coefficients.js';

export type ThermocoupleType = ThermocoupleKind['type'];

/** Where a function of ITS-90 holds: `from` and `to` in the unit of its argument. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A converted figure, or why there is none. An argument that is no number counts as out of range. */
export type Converted =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly problem: 'below-range' | 'above-range' | 'not-a-number'; readonly range: Span };

/** Temperatures over which both ways are tabulated, C. */
export function rangeC(type: ThermocoupleType): Span {
  return spanOf(ITS90[type].millivolts);
}

/**
 * Voltage of a thermocouple at `atC`, its cold junction at 0 C, in mV: the reference function of NIST Monograph 175.
 * Out of range outside K -200..1372, J -210..1200, T -200..400 C.
 */
export function millivolts(type: ThermocoupleType, atC: number): Converted {
  const { millivolts: stretches, humpAboveZeroC } = ITS90[type];
  const result = evaluate(stretches, atC);
  // At 0 itself the stretch below is the one that is taken, and it has no hump.
  if (!result.ok || atC <= 0 || humpAboveZeroC === undefined) return result;
  return { ok: true, value: result.value + humpAt(humpAboveZeroC, atC) };
}

/**
 * Temperature of a thermocouple from its voltage in mV, its cold junction at 0 C: the approximate inverse function of the
 * same tables, good to 0.06 C (K), 0.05 C (J), 0.04 C (T).
 * Out of range outside K -5.891..54.886, J -8.095..69.553, T -5.603..20.872 mV.
 */
export function celsius(type: ThermocoupleType, mv: number): Converted {
  return evaluate(ITS90[type].celsius, mv);
}

/**
 * Temperature at the tip, C, from the voltage read across the cold junction, mV, and the temperature of that junction:
 * the junction's own voltage is added before the inverse is taken (temperatures themselves do not add).
 */
export function celsiusAtTip(type: ThermocoupleType, mv: number, coldJunctionC: number): Converted {
  const junction = millivolts(type, coldJunctionC);
  return junction.ok ? celsius(type, mv + junction.value) : junction;
}

function evaluate(stretches: readonly Stretch[], argument: number): Converted {
  const range = spanOf(stretches);
  if (!Number.isFinite(argument)) return { ok: false, problem: 'not-a-number', range };
  if (argument < range.from) return { ok: false, problem: 'below-range', range };
  const stretch = stretches.find(({ to }) => argument <= to);
  if (stretch === undefined) return { ok: false, problem: 'above-range', range };
  return { ok: true, value: stretch.coefficients.reduceRight((sum, coefficient) => sum * argument + coefficient, 0) };
}

function humpAt({ height, rate, centre }: Hump, atC: number): number {
  return height * Math.exp(rate * (atC - centre) ** 2);
}

function spanOf(stretches: readonly Stretch[]): Span {
  return { from: stretches[0]?.from ?? 0, to: stretches.at(-1)?.to ?? 0 };
}
