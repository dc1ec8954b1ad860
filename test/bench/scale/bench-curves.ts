import { BenchFigures } from './bench-figures.js';
import { Curve, CurvePicture } from './curve-picture.js';
import { Costs } from './measured-costs.js';
import { Plant } from './plant.js';
import { simulate } from './simulate.js';

const GROWTH = /^growth: (.+) at (\d+) events$/;
const SIZE = /^(.+), size$/;
const CPU = /^CPU of (.+) an event$/;
const EVENTS = { label: 'events in the book', kind: 'log' } as const;
/** Pages as the bench of reads names them, and in words. */
const PAGES = { unit: 'unit page', ledger: 'ledger page', 'hold-desk': 'hold list', 'hold-summary': 'hold summary' };

/** Database servers of the plants that are compared; each has as many cores, apis and workers. */
const SERVERS = [1, 2, 4, 8, 16];
const EACH = { apis: 2, workers: 10, coresOfDatabase: 8 };
const BURST = 100;
const LEAST_BURSTS = 6_000;
/** Long enough for what falls behind to show it. */
const LEAST_SECONDS = 10;
const SEED = 1;
const LEAST_LOAD = 1_000;
/** From one load to the next. */
const LOAD_STEP = 1.25;

/** Pictures of what figures there are, by the names of their files; without those that there are none for. */
export function benchPictures(figures: BenchFigures, costs: Costs | undefined): ReadonlyMap<string, CurvePicture> {
  const pictures: readonly (readonly [string, CurvePicture])[] = [
    ['growth-rate', growthRate(figures)],
    ['growth-cpu', growthCpu(figures)],
    ['growth-bytes', growthBytes(figures)],
    ['reads', readTimes(figures)],
    ...(costs === undefined ? [] : [['servers', serversUnderLoad(costs)] as const]),
  ];
  return new Map(pictures.filter(([, { curves }]) => curves.some(({ points }) => points.length > 0)));
}

function growthRate(figures: BenchFigures): CurvePicture {
  return {
    title: 'Events applied a second, by the size of the book',
    ...{ x: EVENTS, y: { label: 'events/s', kind: 'linear' } },
    curves: growthCurves(figures, (what) => (what === 'applied' ? 'applied' : undefined)),
  };
}

function growthCpu(figures: BenchFigures): CurvePicture {
  return {
    title: 'CPU time an event, by the size of the book',
    ...{ x: EVENTS, y: { label: 'us of CPU an event', kind: 'linear' } },
    curves: growthCurves(figures, (what) => CPU.exec(what)?.[1]),
  };
}

function growthBytes(figures: BenchFigures): CurvePicture {
  return {
    title: 'What the book takes in Postgres, by what its tables are for',
    x: EVENTS,
    y: { label: 'bytes, with indexes', kind: 'log' },
    curves: growthCurves(figures, (what) => SIZE.exec(what)?.[1]),
  };
}

/** @param labelOf names the curve that a figure belongs to, if it does to any */
function growthCurves(figures: BenchFigures, labelOf: (what: string) => string | undefined): Curve[] {
  const curves = new Map<string, [number, number][]>();
  for (const [name, value] of figures) {
    const [, what = '', events] = GROWTH.exec(name) ?? [];
    const label = labelOf(what);
    if (label === undefined) continue;
    curves.set(label, [...(curves.get(label) ?? []), [Number(events), value]]);
  }
  return [...curves].map(([label, points]) => ({ label, points: points.sort(([a], [b]) => a - b) }));
}

function readTimes(figures: BenchFigures): CurvePicture {
  const curves = Object.entries(PAGES).map(([page, label]): Curve => {
    const points = ['small', 'large'].flatMap((size): [number, number][] => {
      const [entries, p99] = [figures.get(`${size} book: entries`), figures.get(`${page} p99, ${size}`)];
      return entries === undefined || p99 === undefined ? [] : [[entries, p99]];
    });
    return { label, points };
  });
  return {
    title: 'How long reads take, in a small book and a large one',
    x: { label: 'entries in the book', kind: 'log' },
    y: { label: 'ms, 99th percentile', kind: 'linear' },
    curves: curves.filter(({ points }) => points.length > 0),
  };
}

/** Each curve goes as far as the plant keeps up. */
function serversUnderLoad(costs: Costs): CurvePicture {
  const curves = SERVERS.map((databases): Curve => {
    const plant: Plant = {
      ...{ databases, coresOfDatabase: EACH.coresOfDatabase },
      apis: EACH.apis * databases,
      workers: EACH.workers * databases,
    };
    const points: [number, number][] = [];
    for (let eventsPerSecond = LEAST_LOAD; ; eventsPerSecond *= LOAD_STEP) {
      const load = { eventsPerSecond, burst: BURST };
      const bursts = Math.max(LEAST_BURSTS, Math.ceil((LEAST_SECONDS * eventsPerSecond) / BURST));
      const { appliedMs, isSteady } = simulate(plant, { costs, load, bursts, seed: SEED });
      if (!isSteady) return { label: databases === 1 ? '1 server' : `${String(databases)} servers`, points };
      points.push([eventsPerSecond, appliedMs.p99]);
    }
  });
  return {
    title: 'Simulated: time until applied under load, by the number of database servers',
    x: {
      label: `events/s; a server has ${String(EACH.coresOfDatabase)} cores, ${String(EACH.apis)} apis and ${String(EACH.workers)} workers`,
      kind: 'log',
    },
    y: { label: 'ms, 99th percentile', kind: 'log' },
    curves: curves.filter(({ points }) => points.length > 0),
  };
}
