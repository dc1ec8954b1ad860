/** A figure that a station said and its trace does not bear out. */
export interface Mismatch {
  readonly thermocouple: string;
  readonly figure: string;
  readonly unit: string;
  readonly said: number;
  readonly trace: number;
  /** How far apart the two may be. */
  readonly tolerance: number;
}

const FIGURES: Readonly<Record<string, readonly [words: string, unit: string]>> = {
  peakC: ['peak', '°C'],
  secondsAboveLiquidus: ['time above liquidus', 's'],
  maxRiseCPerS: ['steepest rise', '°C/s'],
  maxFallCPerS: ['steepest fall', '°C/s'],
};

const TOLD =
  /^thermocouple (.+), (\w+): (-?[\d.]+) said; the summary says ([\d.]+) (more|less) than the trace, ([\d.]+) is allowed$/;

/**
 * Both figures of each disagreement, from the evidence's own words.
 * @returns also the words that tell something else, such as a channel that was open
 */
export function mismatches(details: readonly string[]): {
  readonly rows: readonly Mismatch[];
  readonly others: readonly string[];
} {
  const rows: Mismatch[] = [];
  const others: string[] = [];
  for (const detail of details) {
    const [, thermocouple, code, given, apart, side, tolerance] = TOLD.exec(detail) ?? [];
    const known = code === undefined ? undefined : FIGURES[code];
    if (thermocouple === undefined || known === undefined) {
      others.push(detail);
      continue;
    }
    // A station may give its fall as a negative slope.
    const said = code === 'maxFallCPerS' ? Math.abs(Number(given)) : Number(given);
    const trace = round(side === 'more' ? said - Number(apart) : said + Number(apart));
    rows.push({ thermocouple, figure: known[0], unit: known[1], said, trace, tolerance: Number(tolerance) });
  }
  return { rows, others };
}

/** Two thermocouples whose figures would agree if their names were exchanged; null where that is not what happened. */
export function exchanged(rows: readonly Mismatch[]): readonly [string, string] | null {
  const names = [...new Set(rows.map(({ thermocouple }) => thermocouple))];
  const [first, second] = names;
  if (first === undefined || second === undefined || names.length !== 2) return null;
  const fits = (one: Mismatch) => {
    const other = rows.find(({ thermocouple, figure }) => thermocouple !== one.thermocouple && figure === one.figure);
    return other !== undefined && Math.abs(one.said - other.trace) <= other.tolerance;
  };
  return rows.every(fits) ? [first, second] : null;
}

function round(figure: number): number {
  return Math.round(figure * 100) / 100;
}
