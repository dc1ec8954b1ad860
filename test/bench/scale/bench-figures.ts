import { readFile } from 'node:fs/promises';

/** Figures of the bench by name. */
export type BenchFigures = ReadonlyMap<string, number>;

/** Reads what `npm run bench -- --json` has written, one file or several; of a name that comes twice the last counts. */
export async function readFigures(files: readonly string[]): Promise<BenchFigures> {
  const texts = await Promise.all(files.map((file) => readFile(file, 'utf8')));
  return new Map(texts.flatMap((text, n) => figuresIn(text, files[n] ?? '')));
}

/** @throws Error that names what is missing, and says how to come by it */
export function figureOf(figures: BenchFigures, name: string): number {
  const value = figures.get(name);
  if (value !== undefined && Number.isFinite(value)) return value;
  throw new Error(`there is no figure '${name}': write one with npm run --silent bench -- --json cost > FILE`);
}

function figuresIn(text: string, file: string): [string, number][] {
  // npm prints what it runs before, unless it is told to be silent.
  const report: unknown = JSON.parse(text.slice(text.indexOf('{')));
  const figures = fieldOf(report, 'figures');
  if (!Array.isArray(figures)) throw new Error(`${file} is no report of the bench: it has no figures`);
  return figures.map((figure: unknown) => [String(fieldOf(figure, 'name')), Number(fieldOf(figure, 'value'))]);
}

function fieldOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null
    ? Object.entries(value).find(([key]) => key === name)?.[1]
    : undefined;
}
