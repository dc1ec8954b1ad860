import { parseArgs } from 'node:util';
import { openServers } from '../bench/services/bench-servers.js';
import { thisMachine } from '../bench/machine.js';
import { afterFaults } from './after-faults.js';
import { readDocument } from './document-routes.js';
import { FuzzOutcome, FuzzRun } from './fuzz-run.js';
import { openFuzzProduct } from './fuzz-product.js';
import { enterFuzzShop } from './fuzz-shop.js';

const { values } = parseArgs({
  options: {
    requests: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    json: { type: 'boolean', default: false },
  },
});
const requests = Number(values.requests);
const seed = Number(values.seed);
if (!Number.isInteger(requests) || requests < 10 || !Number.isInteger(seed)) {
  process.stderr.write('npm run fuzz -- [--requests N, from 10] [--seed S] [--json]\n');
  process.exitCode = 2;
} else {
  const servers = await openServers();
  try {
    const product = await openFuzzProduct(servers.redisUrl);
    try {
      const shop = await enterFuzzShop(product);
      const run = new FuzzRun(product, await readDocument(product), shop, seed);
      const outcome = await run.send(requests, (done) => process.stderr.write(`${String(done)} sent\n`));
      const after = await afterFaults(product, outcome);
      process.stdout.write(
        values.json
          ? `${JSON.stringify({ machine: thisMachine(), ...outcome, after }, null, 2)}\n`
          : inWords(outcome, after),
      );
      if (after.length > 0 || Object.keys(outcome.faults).length > 0) process.exitCode = 1;
    } finally {
      await product.close();
    }
  } finally {
    await servers.close();
  }
}

function inWords(
  { requests: sent, seconds, byStatus, byKind, slowestMs, health, faults }: FuzzOutcome,
  after: readonly string[],
): string {
  const kinds = Object.entries(byKind).sort(([a], [b]) => a.localeCompare(b));
  const lines = [
    `seed ${String(seed)}: ${String(sent)} requests in ${String(seconds)} s, the slowest answered after ${String(slowestMs)} ms`,
    `by status: ${counts(byStatus)}`,
    ...kinds.map(([kind, statuses]) => `  ${kind}: ${counts(statuses)}`),
    `the least that the api had in each tenth: ${health.map(({ rssMb, open }) => `${rssMb?.toFixed(0) ?? '?'} MB, ${String(open)} open`).join('; ')}`,
    ...Object.entries(faults).map(
      ([what, { count, routes, example }]) => `FAULT ${String(count)} x ${what}: ${example}\n  on ${counts(routes)}`,
    ),
    ...after.map((what) => `FAULT afterwards: ${what}`),
  ];
  return `${lines.join('\n')}\n`;
}

function counts(of: Readonly<Record<string, number>>): string {
  return Object.entries(of)
    .map(([key, count]) => `${key} ${String(count)}`)
    .join(', ');
}
