import { Heat } from '../../domain/events/heat.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { countingLines } from './counting-lines.js';
import { readingWords, stepWords } from './event-words.js';
import { HeatPictures } from './heat-pictures.js';
import { heatReadings } from './heat-readings.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { BUDGET_WORDS, listed, shownDuration, shownSubject, shownTime } from './shown-values.js';
import {
  effectsOf,
  eventKey,
  factOf,
  heatOf,
  isHeat,
  isVerdict,
  profileOf,
  StationFact,
  Verdict,
} from './story-entry.js';

/** Thermocouples that are told of one heat. */
const MOST_TOLD = 12;

/** Each heat of the unit: its curve or peaks against the line, and what was judged of it for whom. */
export async function* heatsSection(report: Report): AsyncGenerator<undefined, void> {
  const { source, sheet, marks } = report;
  sheet.begin('Heats', 2, 190);
  if (marks.heats === 0) sheet.paragraph('No heat of this unit is recorded.');
  else
    sheet.paragraph(
      'A heat counts as an excursion of a subject where the reading that governs it, with its uncertainty added, reaches the ' +
        'counting line: the solidus of the joint’s solder less the guard band. Where nothing was measured, the step or the ' +
        'qualification of its profile decides, and the table says so. Of subjects that are not listed nothing was spent.',
    );
  const pictures = new HeatPictures(report);
  for await (const entry of source.ledger.entries()) {
    const fact = factOf(entry);
    if (fact === undefined) continue;
    const key = eventKey(entry) ?? '';
    const effects = marks.rejudged.get(key)?.effects ?? effectsOf(entry);
    const verdicts = effects.filter(isVerdict);
    if (!isHeat(fact, effects)) continue;
    await heat(report, entry, fact, verdicts, pictures);
    yield;
  }
  pictures.tellLeftOut();
}

async function heat(
  report: Report,
  entry: SealedEntry,
  fact: StationFact,
  verdicts: readonly Verdict[],
  pictures: HeatPictures,
): Promise<void> {
  const { sheet, source } = report;
  const told = heatOf(fact);
  // The heading stays with its drawing, which is far higher where there is a trace.
  sheet.part(`Entry ${String(entry.seq)}: ${stepWords(fact).what}`, told?.trace === undefined ? 120 : 290);
  sheet.paragraph(whenWords(entry, fact, told));
  const readings = told === undefined ? [] : heatReadings(entry, told, verdicts, source.configuration);
  if (readings.length > 0) {
    const words = readings.map(({ summary, uncertaintyC }) => readingWords(summary, uncertaintyC));
    sheet.paragraph(`As the station summed it up: ${listed(words, MOST_TOLD)}.`);
  }
  const lines = countingLines(verdicts);
  if (told !== undefined) await pictures.draw(told, readings, lines);
  verdictTable(report, entry, verdicts);
}

function whenWords(entry: SealedEntry, fact: StationFact, told: Heat | undefined): string {
  const profile = profileOf(fact);
  const by = profile === undefined ? '' : `, profile ${profile.name}@${profile.revision}`;
  if (told === undefined) return `${shownTime(entry.time)}${by}. No thermocouple was read: the step itself decides.`;
  const lasted = (Date.parse(told.endedAt) - Date.parse(told.startedAt)) / 1000;
  const trace = told.trace === undefined ? 'no trace' : `trace ${told.trace}`;
  return `${shownTime(told.startedAt)} to ${shownTime(told.endedAt)} (${shownDuration(lasted)})${by}, ${trace}.`;
}

const VERDICTS = {
  counted: 'counted: one spent',
  clear: 'clear: not counted',
  possible: 'possible: shown, not counted',
} as const;

function verdictTable({ sheet, marks }: Report, entry: SealedEntry, verdicts: readonly Verdict[]): void {
  const key = eventKey(entry) ?? '';
  const [struck, anew] = [marks.annulled.get(key), marks.rejudged.get(key)];
  if (struck !== undefined)
    sheet.paragraph(`ANNULLED by entry ${String(struck)}: nothing follows from this heat.`, { face: 'bold' });
  else if (anew !== undefined) sheet.paragraph(`Told as judged anew by entry ${String(anew.seq)}.`, { face: 'bold' });
  if (verdicts.length === 0) {
    sheet.paragraph('Nothing was spent of anybody.');
    return;
  }
  const table = new SheetTable(sheet, [
    { title: 'Subject', share: 24, head: true },
    { title: 'Of what', share: 18 },
    { title: 'Verdict', share: 18 },
    { title: 'By which evidence', share: 40 },
  ]);
  for (const { kind, subject, limit, count } of verdicts) {
    table.row([shownSubject(subject), BUDGET_WORDS[limit], VERDICTS[kind], `${count.why}; basis: ${count.basis}`]);
  }
  table.end();
}
