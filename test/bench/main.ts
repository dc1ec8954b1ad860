import { parseArgs } from 'node:util';
import { backlogCase } from './backlog-case.js';
import { BenchCase, BenchSize } from './bench-case.js';
import { costCase } from './cost-case.js';
import { exportCase } from './export-case.js';
import { gateCase } from './gate-case.js';
import { growthCase } from './growth-case.js';
import { intakeCase } from './intake-case.js';
import { thisMachine } from './machine.js';
import { readsCase } from './reads-case.js';
import { asJson, CaseReport, inWords, reportOf } from './report.js';
import { spoolCase } from './spool-case.js';
import { takeTurns } from './take-turns.js';
import { verifyCase } from './verify-case.js';
import { workersCase } from './workers-case.js';

/** Each makes what it needs, so that one can be run alone: `npm run bench -- verify`. */
const CASES: Readonly<Record<string, (size: BenchSize) => Promise<BenchCase>>> = {
  intake: intakeCase,
  gate: gateCase,
  backlog: backlogCase,
  workers: workersCase,
  spool: spoolCase,
  reads: readsCase,
  cost: costCase,
  growth: growthCase,
  export: exportCase,
  verify: verifyCase,
};

const USAGE = `npm run bench -- [--quick] [--json] [${Object.keys(CASES).join('|')} ...]`;

const { values, positionals } = parseArgs({
  options: { quick: { type: 'boolean', default: false }, json: { type: 'boolean', default: false } },
  allowPositionals: true,
});
const unknown = positionals.filter((name) => !(name in CASES));
if (unknown.length > 0) {
  process.stderr.write(`There is no bench ${unknown.join(', ')}. ${USAGE}\n`);
  process.exitCode = 2;
} else {
  const reports: CaseReport[] = [];
  for (const [name, make] of Object.entries(CASES)) {
    if (positionals.length > 0 && !positionals.includes(name)) continue;
    const report = await run(await make({ quick: values.quick }));
    // With --json the words go beside it, so that a long run can be watched.
    (values.json ? process.stderr : process.stdout).write(inWords(report));
    reports.push(report);
  }
  if (values.json) process.stdout.write(asJson(thisMachine(), reports));
}

async function run(bench: BenchCase): Promise<CaseReport> {
  try {
    return reportOf(bench, await takeTurns(bench));
  } finally {
    await bench.close();
  }
}
