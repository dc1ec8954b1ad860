import { readFigures } from './bench-figures.js';
import { FALLBACK_COSTS, LinearCost, measuredCosts } from './measured-costs.js';
import { FoundPlant, leastPlant } from './least-plant.js';
import { Load, loadOfStations, Plant, STATION } from './plant.js';
import { simulate } from './simulate.js';

const APPLIED_WITHIN_MS = 2_000;
const CORES_OF_DATABASE = 8;
const BURSTS = 20_000;
const SEED = 1;
/** Sent on by gateways, which put together what their stations say. */
const GREAT_LOAD: Load = { eventsPerSecond: 100_000, burst: 100 };

const PLANTS: readonly Plant[] = [
  { apis: 1, workers: 1, databases: 1, coresOfDatabase: 2 },
  { apis: 2, workers: 2, databases: 1, coresOfDatabase: 4 },
  { apis: 2, workers: 4, databases: 1, coresOfDatabase: 8 },
];
const STATIONS = [1, 100, 10_000];
/** What each plant of the list is put under. */
const PLANT_LOADS: readonly Load[] = [100, 1_000, 3_000].map((eventsPerSecond) => ({ eventsPerSecond, burst: 100 }));

/** Prints what plants come to under load, from a report of the bench (`cost`), and the least that stay fast enough. */
const files = process.argv.slice(2);
const costs = files.length === 0 ? FALLBACK_COSTS : measuredCosts(await readFigures(files));
const costsText = Object.entries<LinearCost>({ ...costs })
  .map(([stage, { onceUs, eachUs }]) => `${stage} ${onceUs.toFixed(0)} + ${eachUs.toFixed(1)}`)
  .join(', ');
const lines = [
  `Costs${files.length === 0 ? ' (none measured: of some machine)' : ''}, us of CPU, once and for each event: ${costsText}`,
  `A station tells ${String(STATION.eventsAnHour)} events an hour, ${String(STATION.burst)} at a time: common practice, from no source.`,
  '',
  'Plants under load:',
  ...PLANTS.flatMap((plant) =>
    PLANT_LOADS.map((load) =>
      row(load, { plant, simulated: simulate(plant, { costs, load, bursts: BURSTS, seed: SEED }) }),
    ),
  ),
  '',
  `Least plants with applied p99 below ${String(APPLIED_WITHIN_MS)} ms, databases of ${String(CORES_OF_DATABASE)} cores:`,
];
process.stdout.write(`${lines.join('\n')}\n`);
for (const stations of STATIONS) {
  process.stdout.write(
    `  ${String(stations)} stations\n${row(loadOfStations(stations), least(loadOfStations(stations)))}\n`,
  );
}
process.stdout.write(`  ${String(GREAT_LOAD.eventsPerSecond)} events/s\n${row(GREAT_LOAD, least(GREAT_LOAD))}\n`);

function least(load: Load): FoundPlant {
  const wish = { costs, load, coresOfDatabase: CORES_OF_DATABASE, appliedMs: APPLIED_WITHIN_MS, bursts: BURSTS };
  return leastPlant(wish);
}

function row({ eventsPerSecond, burst }: Load, { plant, simulated }: FoundPlant): string {
  const { utilisation, longestQueue, ackMs, appliedMs, isSteady } = simulated;
  const used = Object.entries(utilisation).map(([stage, share]) => `${stage} ${(share * 100).toPrecision(2)}%`);
  const queues = Object.entries(longestQueue).map(([stage, length]) => `${stage} ${String(length)}`);
  return [
    `  ${shown(eventsPerSecond)} events/s by ${String(burst)}: ${counts(plant)}`,
    `    busy: ${used.join(', ')}; longest queues: ${queues.join(', ')}`,
    `    ack ${shown(ackMs.p50)} / ${shown(ackMs.p99)} ms, applied ${shown(appliedMs.p50)} / ${shown(appliedMs.p99)} ms (p50 / p99)${isSteady ? '' : ': falls behind'}`,
  ].join('\n');
}

function counts({ apis, workers, databases, coresOfDatabase }: Plant): string {
  return `${String(apis)} api, ${String(workers)} workers, ${String(databases)} x Postgres with ${String(coresOfDatabase)} cores`;
}

function shown(value: number): string {
  return value >= 1_000 ? value.toFixed(0) : String(Number(value.toPrecision(3)));
}
