import { BenchCase } from './bench-case.js';
import { exportCase } from './export-case.js';
import { timeCase, Timing } from './time-case.js';
import { verifyCase } from './verify-case.js';

/** Each makes what it needs, so that one can be run alone: `npm run bench -- verify`. */
const CASES: Readonly<Record<string, () => Promise<BenchCase>>> = { export: exportCase, verify: verifyCase };

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !(name in CASES));
if (unknown.length > 0) {
  process.stderr.write(`There is no bench ${unknown.join(', ')}; there are ${Object.keys(CASES).join(', ')}.\n`);
  process.exitCode = 2;
} else {
  for (const [name, make] of Object.entries(CASES)) {
    if (asked.length === 0 || asked.includes(name)) await show(await make());
  }
}

async function show(bench: BenchCase): Promise<void> {
  try {
    process.stdout.write(`\n${bench.title}: ${bench.what}; median of ${bench.rounds} rounds\n`);
    const timings = await timeCase(bench);
    for (const timing of timings) process.stdout.write(`${lineOf(timing)}\n`);
    for (const note of bench.notes?.() ?? []) process.stdout.write(`  ${note}\n`);
  } finally {
    await bench.close();
  }
}

function lineOf({ name, medianMs, fastestMs, ratio }: Timing): string {
  const times = `${medianMs.toFixed(0).padStart(8)} ms (fastest ${fastestMs.toFixed(0)} ms)`;
  return `${times}  ${ratio.toFixed(2).padStart(7)} x  ${name}`;
}
