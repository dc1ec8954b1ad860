import { Heat } from '../../domain/events/heat.js';
import { CountingLineShown, linesInWords } from './counting-lines.js';
import { HeatReading } from './heat-readings.js';
import { peaksFigure } from './peaks-figure.js';
import { Report } from './report.js';
import { counted, figure } from './shown-values.js';
import { tracePicture } from './trace-picture.js';

/** What is drawn at most: a curve costs the reading of its trace. Heats beyond that are told in words all the same. */
const MOST_CURVES = 40;
const MOST_PEAK_FIGURES = 120;
const MOST_PEAKS = 12;

/** Draws heats as long as there is room for drawings, and knows how many it has left out. */
export class HeatPictures {
  private curves = 0;
  private peaks = 0;
  private curvesLeft = 0;
  private peaksLeft = 0;

  constructor(private readonly report: Report) {}

  /** The curve of a heat, or its peaks where it left no trace that can be drawn. */
  async draw(told: Heat, readings: readonly HeatReading[], lines: readonly CountingLineShown[]): Promise<void> {
    if (told.trace !== undefined) {
      if (this.curves >= MOST_CURVES) this.curvesLeft += 1;
      else if (await tracePicture(this.report, told.trace, readings, lines)) {
        this.curves += 1;
        return;
      }
    }
    if (readings.length > 0) this.drawPeaks(readings, lines);
  }

  tellLeftOut(): void {
    if (this.curvesLeft + this.peaksLeft === 0) return;
    this.report.sheet.paragraph(
      `Left to the JSON file and its traces: ${counted(this.curvesLeft, 'curve', 'curves')} beyond the first ${String(MOST_CURVES)}, ` +
        `and ${counted(this.peaksLeft, 'drawing', 'drawings')} of peaks beyond the first ${String(MOST_PEAK_FIGURES)}. ` +
        'What was judged of those heats is told above.',
    );
  }

  private drawPeaks(readings: readonly HeatReading[], lines: readonly CountingLineShown[]): void {
    if (this.peaks >= MOST_PEAK_FIGURES) {
      this.peaksLeft += 1;
      return;
    }
    this.peaks += 1;
    const peaks = readings.slice(0, MOST_PEAKS).map(({ label, summary: { peakC }, uncertaintyC }) => {
      return { label, peakC, uncertaintyC };
    });
    const words = peaks.map(({ label, peakC, uncertaintyC }) => {
      return `${label} ${figure(peakC, '')} ± ${figure(uncertaintyC, '°C')}`;
    });
    peaksFigure(this.report.sheet, `Peaks: ${words.join(', ')}. ${linesInWords(lines)}`, peaks, lines);
  }
}
