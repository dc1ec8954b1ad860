import { Mark } from '../kit/marks.js';
import { useNow } from '../kit/when.js';
import { calibrationWords } from './calibration-words.js';
import type { StationReport } from './station-queries.js';

/** How a station's calibration stands, with its date. */
export function CalibrationMark({ report }: { readonly report: StationReport }) {
  const { tone, word, when } = calibrationWords(report, useNow());
  // What is as it should be stands back, so that the others stand out.
  if (tone === 'good') {
    return (
      <>
        <span aria-hidden="true">✓ </span>
        {word} {when}
      </>
    );
  }
  return (
    <>
      <Mark tone={tone}>{word}</Mark> {when}
    </>
  );
}
