import { Finding } from '../../../libs/simulator/mistake.js';
import { ComparedDay } from './compare-day.js';
import { PlayedDay } from './play-day.js';

/** What was done, and what Heatbook answered and says now. Figures in lines, for people. */
export function dayInWords(
  played: PlayedDay,
  found: ReadonlyMap<string, readonly Finding[]>,
  boards: readonly string[],
  seconds: number,
): string {
  const { accepted, duplicates, rejected, traces, cleared, refused, putAside, surprises } = played;
  const rate = Math.round((accepted + duplicates + rejected) / Math.max(seconds, 0.001));
  return [
    `${String(boards.length)} boards in ${seconds.toFixed(1)} s, ${String(rate)} events/s.`,
    `Events: ${String(accepted)} accepted, ${String(duplicates)} duplicate, ${String(rejected)} rejected. Traces: ${String(traces)}.`,
    `Clearances: ${String(cleared)} granted, ${String(refused)} refused; ${String(putAside)} boards put aside for it.`,
    `Holds: ${counted(found, 'hold')}.`,
    `Warnings: ${counted(found, 'warning')}.`,
    ...surprises.map((surprise) => `Not expected: ${surprise}`),
  ].join('\n');
}

/** The planted mistakes with what the book says of each, and what it says besides. */
export function mistakesInWords({ mistakes, unexpected }: ComparedDay): string {
  const lines = mistakes.flatMap(({ kind, board, operator, story, expected, missing }) => [
    `${missing.length === 0 ? 'found ' : 'MISSED'} ${kind}, ${board}, ${operator}: ${story}`,
    ...expected.map((one) => `         ${inWords(one)}${missing.includes(one) ? ': not said' : ''}`),
  ]);
  const others = unexpected.map((one) => `NOT EXPECTED ${one.board}: ${inWords(one)}`);
  return [`Planted mistakes: ${String(mistakes.length)}.`, ...lines, ...others].join('\n');
}

function inWords({ kind, code, subject }: Finding): string {
  return `${kind} ${code} on ${subject}`;
}

function counted(found: ReadonlyMap<string, readonly Finding[]>, wanted: Finding['kind']): string {
  const counts = new Map<string, number>();
  for (const { kind, code } of [...found.values()].flat()) {
    if (kind === wanted) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  const parts = [...counts].map(([code, count]) => `${String(count)} ${code}`);
  return parts.length === 0 ? 'none' : parts.join(', ');
}
