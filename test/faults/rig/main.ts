import { randomInt } from 'node:crypto';
import { parseArgs } from 'node:util';
import { join } from 'node:path';
import { FAULTS } from './fault-list.js';
import { runFaults } from './run-faults.js';

const BOARDS = 100;

/** `npm run faults -- --rounds N --seed S [--boards N] [--only TEXT] [--json]`: exit code 1 where anything was lost, doubled or wrong. */
const { values } = parseArgs({
  options: {
    rounds: { type: 'string', default: String(FAULTS.length) },
    seed: { type: 'string' },
    boards: { type: 'string', default: String(BOARDS) },
    only: { type: 'string' },
    json: { type: 'boolean', default: false },
  },
});
// Where `tsconfig.bench.json` puts what it makes.
process.env['TEST_TREE'] ??= join(process.cwd(), 'node_modules', '.cache', 'bench');
const { only } = values;
const report = await runFaults({
  rounds: wholeNumber('rounds', values.rounds),
  seed: values.seed === undefined ? randomInt(2 ** 31) : wholeNumber('seed', values.seed),
  boards: wholeNumber('boards', values.boards),
  faults: only === undefined ? FAULTS : FAULTS.filter(({ name }) => name.includes(only)),
  log: (line) => process.stderr.write(`${line}\n`),
});
process.stdout.write(values.json ? `${JSON.stringify(report, null, 2)}\n` : tableOf(report));
process.exitCode = report.lost + report.doubled + report.wrong.length > 0 ? 1 : 0;

function wholeNumber(name: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  process.stderr.write(`--${name} must be a whole number\n`);
  return process.exit(2);
}

function tableOf({ byFault, seed, rounds, wrong, leftOut, ...all }: typeof report): string {
  const rows = [...byFault, { fault: 'all', rounds, ...all }].map(
    ({ fault, rounds: times, kills, acknowledged, lost, doubled, recoverySeconds: { median, max } }) =>
      `| ${[fault, times, kills, acknowledged, lost, doubled, `${String(median)} / ${String(max)}`].join(' | ')} |`,
  );
  return [
    `seed ${String(seed)}`,
    '| fault | rounds | kills | acknowledged | lost | doubled | recovery, s (median / max) |',
    '| --- | --- | --- | --- | --- | --- | --- |',
    ...rows,
    ...wrong.map((words) => `wrong: ${words}`),
    ...leftOut.map((name) => `left out, this machine does not let it happen: ${name}`),
    '',
  ].join('\n');
}
