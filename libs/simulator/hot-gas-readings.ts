import { ThermocoupleSummary } from '../domain/events/heat.js';
import { SeededRandom } from './seeded-random.js';

interface Band {
  /** Lowest and highest peak at the joint, C. */
  readonly joint: readonly [number, number];
  /** How much hotter the top of the package gets, C. */
  readonly bodyOver: readonly [number, number];
  readonly liquidusC: number;
}

const LEAD_FREE: Band = { joint: [232, 238], bodyOver: [4, 6], liquidusC: 220 };
const LEADED: Band = { joint: [205, 210], bodyOver: [3, 5], liquidusC: 183 };

/** What a hot-gas heat in the middle of its window shows: one thermocouple at the joint and one on the package. */
export function hotGasReadings(random: SeededRandom, alloy: string): readonly ThermocoupleSummary[] {
  const band = alloy === 'Sn63Pb37' ? LEADED : LEAD_FREE;
  const jointC = random.figure(...band.joint);
  const bodyC = Math.round((jointC + random.figure(...band.bodyOver)) * 10) / 10;
  const slopes = { maxRiseCPerS: random.figure(1.2, 2.2, 2), maxFallCPerS: random.figure(1.5, 2.8, 2) };
  const joint: ThermocoupleSummary = {
    id: 'TC1',
    position: 'joint',
    peakC: jointC,
    secondsAboveLiquidus: random.figure(52, 80),
    liquidusC: band.liquidusC,
    ...slopes,
  };
  return [joint, { id: 'TC2', position: 'body', peakC: bodyC }];
}
