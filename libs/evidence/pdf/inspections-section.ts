import { InspectionRecorded } from '../../domain/events/station-event.js';
import { HeightPoint } from '../../domain/flatness/height-map.js';
import { leastSquaresPlane } from '../../domain/flatness/least-squares-plane.js';
import { seatingPlane } from '../../domain/flatness/seating-plane.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { defectWords, targetWords } from './event-words.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { counted, figure, listed, shownTime } from './shown-values.js';
import { actorWords, eventKey, factOf } from './story-entry.js';

const PACE = 25;
const MOST_JOINTS = 8;

/** Every inspection with what was found and measured. */
export async function* inspectionsSection(report: Report): AsyncGenerator<undefined, void> {
  const { source, sheet, marks } = report;
  sheet.begin('Inspections', 2);
  if (marks.inspections === 0) {
    sheet.paragraph('No inspection of this unit is recorded.');
    return;
  }
  const table = new SheetTable(sheet, [
    { title: 'Entry', share: 7, head: true },
    { title: 'When and by whom', share: 27 },
    { title: 'Of what, how', share: 16 },
    { title: 'Result', share: 14 },
    { title: 'Defects and measures', share: 36 },
  ]);
  let rows = 0;
  for await (const entry of source.ledger.entries()) {
    const fact = factOf(entry);
    if (fact?.type !== 'heatbook.inspection.recorded.v1') continue;
    table.row(rowOf(entry, fact.data, marks.annulled.get(eventKey(entry) ?? '')));
    rows += 1;
    if (rows % PACE === 0) yield;
  }
  table.end();
}

function rowOf(
  entry: SealedEntry,
  data: InspectionRecorded,
  struck: number | undefined,
): Parameters<SheetTable['row']>[0] {
  const found = [...defectWords(data), ...measures(data)];
  const shown = found.length === 0 ? ['nothing found; no measure told'] : found;
  return [
    String(entry.seq),
    { blocks: [{ text: shownTime(entry.time) }, { text: actorWords(entry) }] },
    { blocks: [{ text: targetWords(data.target) }, { text: data.technique }] },
    {
      blocks: [
        { text: data.result, face: data.result === 'fail' ? 'bold' : 'regular' },
        ...(struck === undefined ? [] : [{ text: `ANNULLED by entry ${String(struck)}`, face: 'bold' as const }]),
      ],
    },
    { blocks: shown.map((text) => ({ text })) },
  ];
}

function measures({ heightsUm = [], voids = [], leadPct }: InspectionRecorded): string[] {
  return [
    ...(heightsUm.length === 0 ? [] : heightWords(heightsUm)),
    ...(voids.length === 0 ? [] : [voidWords(voids)]),
    ...(leadPct === undefined ? [] : [`lead in the joint, measured: ${figure(leadPct, 'wt%', 4)}`]),
  ];
}

function heightWords(heights: readonly HeightPoint[]): string[] {
  const [low, high] = [Math.min, Math.max].map((pick) =>
    heights.reduce((best, { zUm }) => pick(best, zUm), heights[0]?.zUm ?? 0),
  );
  const span = `heights of ${counted(heights.length, 'point', 'points')}: ${figure(low ?? 0, '')} to ${figure(high ?? 0, 'µm')}`;
  const [seating, fitted] = [seatingPlane(heights), leastSquaresPlane(heights)];
  if (seating.kind === 'problem') return [span, `flatness cannot be worked out: ${seating.detail}`];
  return [
    span,
    `flatness from the seating plane: ${figure(seating.maxDeviationMm, 'mm', 4)} (worked out from the heights)`,
    ...(fitted.kind === 'problem' ? [] : [`from the least-squares plane: ${figure(fitted.maxDeviationMm, 'mm', 4)}`]),
  ];
}

function voidWords(voids: NonNullable<InspectionRecorded['voids']>): string {
  const worst = [...voids].sort((a, b) => b.fraction - a.fraction);
  const words = worst.map(({ joint, fraction }) => `${joint} ${figure(100 * fraction, '%', 1)}`);
  return `voids, share of the ball’s area, worst first: ${listed(words, MOST_JOINTS)}`;
}
