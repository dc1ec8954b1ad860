import { BookEffect } from '../../ledger/fold/book-effect.js';
import { isVerdict } from './story-entry.js';
import { figure } from './shown-values.js';

/** The line that a verdict held its reading against, C. */
export interface CountingLineShown {
  readonly lineC: number;
  /** `212 °C = SAC305 solidus 217 °C less 5 °C guard band` */
  readonly label: string;
}

/** The lines that the verdicts of a heat used, as its effects tell them: the hottest first, each once. */
export function countingLines(effects: readonly BookEffect[]): readonly CountingLineShown[] {
  const lines = new Map<string, CountingLineShown>();
  for (const effect of effects) {
    if (!isVerdict(effect)) continue;
    const { verdict } = effect.count;
    if (verdict === undefined) continue;
    const { alloy, solidusC, guardBandC } = verdict;
    const lineC = solidusC - guardBandC;
    const label = `${figure(lineC, '°C')} = ${alloy} solidus ${figure(solidusC, '°C')} less ${figure(guardBandC, '°C')} guard band`;
    lines.set(label, { lineC, label });
  }
  return [...lines.values()].sort((a, b) => b.lineC - a.lineC);
}

/** Of a drawing, for those who do not see it. */
export function linesInWords(lines: readonly CountingLineShown[]): string {
  if (lines.length === 0) return 'No verdict of this heat rests on a reading, so no line is drawn.';
  return `Counting line: ${lines.map(({ label }) => label).join('; ')}.`;
}
