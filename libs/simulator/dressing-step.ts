import { SiteDressed } from '../domain/events/station-event.js';
import { Heat, ThermocoupleSummary } from '../domain/events/heat.js';
import { SeededRandom } from './seeded-random.js';

export interface DressingOrder {
  readonly refdes: string;
  readonly method: SiteDressed['method'];
  readonly solderAlloy: string;
  readonly operator: string;
  /** The heat of so many minutes that the step is about to apply. */
  readonly heat: (minutes: number, thermocouples: readonly ThermocoupleSummary[]) => Heat;
  /** Name of a qualified profile for a method; in its revision B. */
  readonly profile: (purpose: 'FNT' | 'CPN') => { name: string; revision: string };
}

/** What a bench reports of one dressing in the ordinary run of things. */
export function dressingStep(random: SeededRandom, order: DressingOrder): SiteDressed {
  const { refdes, method, solderAlloy, operator } = order;
  const common = {
    refdes,
    method,
    solderAlloy,
    flux: 'no-clean',
    remnantHeightUm: random.whole(12, 30),
    lots: { flux: 'FX-2611' },
    operator,
  };
  switch (method) {
    case 'braid':
      return { ...common, passes: random.whole(2, 3), contactSeconds: random.whole(4, 7) };
    case 'vacuum':
      return { ...common, passes: random.whole(1, 2), contactSeconds: random.whole(3, 5), nozzleSpeedMmPerS: 4 };
    case 'fountain': {
      const leaded = solderAlloy === 'Sn63Pb37';
      const peakC = leaded ? random.figure(206, 211) : random.figure(226, 230);
      const heat = order.heat(3, [{ id: 'TC1', position: 'board', peakC }]);
      const solder = { contactSeconds: 6, solderC: leaded ? 235 : 255, flowing: true };
      return { ...common, passes: 1, ...solder, profile: order.profile('FNT'), heat };
    }
    case 'coupon': {
      const heat = order.heat(5, []);
      return { ...common, passes: 1, contactSeconds: 40, profile: order.profile('CPN'), heat };
    }
  }
}
