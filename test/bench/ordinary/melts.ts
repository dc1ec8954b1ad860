import { HeatDto } from './heat.dto.js';

/** Liquidus of SAC305, C, as the product's table of alloys has it: for thermocouples that do not say what they counted from. */
const LIQUIDUS_C = 220;

/**
 * Whether a joint melted in a heat, by the thermocouples at its site or anywhere on the board. Without one it counts as if it
 * had.
 */
export function melts(heat: HeatDto | undefined, site?: string): boolean {
  const telling = (heat?.thermocouples ?? []).filter(
    ({ position, refdes }) => position !== 'air' && (refdes === undefined || site === undefined || refdes === site),
  );
  if (telling.length === 0) return true;
  return telling.some(({ peakC, liquidusC }) => peakC >= (liquidusC ?? LIQUIDUS_C));
}
