import { Heat } from '../../../../libs/domain/events/heat.js';
import { SeededRandom } from '../../../../libs/simulator/seeded-random.js';
import { LoggedHeat } from '../../../../libs/simulator/traces/logged-heat.js';
import { LoggedTrace, makeTrace } from '../../../../libs/simulator/traces/make-trace.js';
import { summedUp } from '../../../../libs/simulator/traces/sum-up-trace.js';

/** The placement of the example: hot gas on a leaded site, with a bead on the neighbour. Its figures are invented. */
const HEAT: LoggedHeat = {
  name: 'placement-0301-u2',
  alloy: 'Sn63Pb37',
  drive: [
    [0, 23],
    [5, 23],
    [85, 114],
    [165, 149],
    [210, 227],
    [242, 227],
    [330, 60],
    [400, 35],
  ],
  beads: [
    { name: 'Joint', position: 'joint', lagS: 10, peakC: 208.2 },
    { name: 'Body', position: 'body', lagS: 6, peakC: 212.6 },
    { name: 'U4', position: 'joint', lagS: 24, peakC: 141.5 },
  ],
  logger: { perSecond: 2, time: 'seconds' },
};

const SEED = 20_260_304;

export function exampleTrace(): LoggedTrace {
  return makeTrace(HEAT, new SeededRandom(SEED));
}

/** The heat as its station sums it up. @param startedAt RFC 3339, and so `endedAt` */
export function exampleHeat(trace: LoggedTrace, startedAt: string, endedAt: string): Heat {
  const thermocouples = summedUp(trace).map((reading) =>
    reading.id === 'U4' ? { ...reading, refdes: 'U4' } : reading,
  );
  return { startedAt, endedAt, thermocouples, trace: trace.name };
}
