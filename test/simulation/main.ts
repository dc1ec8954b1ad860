import { parseArgs } from 'node:util';
import { thisMachine } from '../bench/machine.js';
import { testSeed } from '../support/process-seed.js';
import { PLANTED_FAULTS } from './planted-faults.js';
import { runSchedule, ScheduleOutcome } from './run-schedule.js';
import { RunOutcome, runSchedules } from './run-schedules.js';
import { openSimShop } from './sim-shop.js';

const USAGE = 'npm run schedules -- [--schedules N] [--seed S] [--planted TEXT | --trace] [--json]';

/** Exit code 1 where a schedule failed, or with `--planted` where a wrong product was taken for a right one. */
const { values } = parseArgs({
  options: {
    schedules: { type: 'string', default: '1000' },
    seed: { type: 'string', default: String(testSeed()) },
    planted: { type: 'string' },
    trace: { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
  },
});
const [schedules, seed] = [Number(values.schedules), Number(values.seed)];
const { planted } = values;
const print = (line: string): void => void process.stdout.write(`${line}\n`);
if (!Number.isInteger(schedules) || schedules < 1 || !Number.isInteger(seed)) {
  process.stderr.write(`${USAGE}\n`);
  process.exitCode = 2;
} else if (planted !== undefined) await seeCaught(planted);
else if (values.trace) await showTrace();
else await play();

async function play(): Promise<void> {
  const shop = await openSimShop();
  const outcome = await runSchedules(shop, { schedules, seed, failed: (one) => process.stderr.write(inWords(one)) });
  print(values.json ? JSON.stringify({ machine: thisMachine(), seed, ...outcome }, null, 2) : summary(outcome));
  if (outcome.failed.length > 0) process.exitCode = 1;
}

/** The same schedule, step by step. */
async function showTrace(): Promise<void> {
  const beganMs = Date.UTC(2026, 3, 1, 8);
  const listener = (ms: number, what: string): void => {
    print(`${((ms - beganMs) / 1000).toFixed(3).padStart(8)} s  ${what}`);
  };
  const outcome = await runSchedule(await openSimShop(), seed, { listener });
  print(outcome.faults.length === 0 ? `TEST_SEED=${String(seed)}: nothing is wrong` : inWords(outcome).trimEnd());
  print(`trace ${outcome.trace}`);
  if (outcome.faults.length > 0) process.exitCode = 1;
}

/** How many schedules it takes until each wrong product is caught. */
async function seeCaught(text: string): Promise<void> {
  const shop = await openSimShop();
  for (const fault of PLANTED_FAULTS.filter(({ name }) => name.includes(text))) {
    const outcome = await runSchedules(shop, { schedules, seed, planted: fault, isUntilFault: true });
    const [first] = outcome.failed;
    const how = first === undefined ? 'NOT CAUGHT' : `schedule ${String(outcome.schedules)}: ${first.faults[0] ?? ''}`;
    print(`| ${fault.name} | ${how} |`);
    if (first === undefined) process.exitCode = 1;
  }
}

function inWords({ seed: own, faults }: ScheduleOutcome): string {
  const replay = `npm run schedules -- --trace --seed ${String(own)}`;
  return `TEST_SEED=${String(own)} failed; to see its steps: ${replay}\n${faults.map((what) => `  ${what}\n`).join('')}`;
}

function summary(outcome: RunOutcome): string {
  const { schedules: played, seconds, cpuSeconds, steps, failed } = outcome;
  const perSecond = (many: number): string => `${(many / seconds).toFixed(0)}/s`;
  return [
    `seeds ${String(seed)} to ${String(seed + played - 1)}: ${String(failed.length)} of ${String(played)} failed`,
    `in ${seconds.toFixed(1)} s, ${cpuSeconds.toFixed(1)} s of the processor: ${perSecond(played)} and ${perSecond(steps)} steps, ` +
      `${(played / cpuSeconds).toFixed(0)} a second of the processor`,
    `${String(outcome.kills)} kills, ${String(outcome.acknowledged)} events acknowledged, ${String(outcome.granted)} clearances ` +
      `granted, ${String(outcome.refused)} refused, ${outcome.virtualSeconds.toFixed(0)} s of virtual time`,
  ].join('\n');
}
