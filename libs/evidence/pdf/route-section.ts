import { SealedEntry } from '../../ledger/ports/seal.js';
import { bookEntryWords, effectWords } from './book-entry-words.js';
import { stepWords, StepWords } from './event-words.js';
import { INK } from './page-style.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { Block } from './laid-text.js';
import { shownTime } from './shown-values.js';
import { calibrationWords, StationThen, stationThen } from './station-calibration.js';
import { actorWords, effectsOf, eventKey, factOf, isVerdict, profileOf, StationFact, textIn } from './story-entry.js';

/** Entries after which full pages may leave, and others of the process have their turn: a few milliseconds of work. */
const PACE = 5;

/** Every entry of the unit's ledger, in the order in which it was written, with what it did. */
export async function* routeSection(report: Report): AsyncGenerator<undefined, void> {
  const { source, sheet } = report;
  sheet.begin('Route', 2, 170);
  sheet.paragraph(
    'Every entry of the unit’s ledger, in the order in which it was written. The first time is when it happened, as it was ' +
      'told, with its offset; the second when it was written into the book. LATE: told after something that happened later. ' +
      'ANNULLED: struck by a later, signed entry, so that nothing follows from it. JUDGED ANEW: what follows from it was ' +
      'changed by a later entry. Nothing is ever removed.',
  );
  const table = new SheetTable(sheet, [
    { title: 'No.', share: 6, head: true },
    { title: 'Happened, written', share: 22 },
    { title: 'Step and what it did', share: 44 },
    { title: 'By', share: 28 },
  ]);
  const stations = new Map<string, StationThen & { overdue: number; told: number }>();
  for await (const entry of source.ledger.entries()) {
    const station = stationThen(entry, source.configuration);
    if (station !== undefined) remember(stations, station);
    table.row(rowOf(entry, station, report));
    if (entry.seq % PACE === 0) yield;
  }
  table.end();
  yield;
  stationTable(stations, report);
}

function rowOf(
  entry: SealedEntry,
  station: StationThen | undefined,
  { marks, people }: Report,
): (string | { blocks: Block[] })[] {
  const fact = factOf(entry);
  const { what, details } = fact === undefined ? bookEntryWords(entry, people) : stepWords(fact);
  const flags = flagsOf(entry, fact, marks);
  const did = fact === undefined ? [] : effectsOf(entry).flatMap(effectWords);
  const note = fact?.data.note;
  return [
    String(entry.seq),
    {
      blocks: [
        { text: shownTime(entry.time) },
        { text: `written ${shownTime(entry.recordedAt)}`, size: 6.5, ink: INK.soft },
      ],
    },
    {
      blocks: [
        ...flags.map((text): Block => ({ text, face: 'bold' })),
        { text: what, face: 'bold' },
        ...inSentence({ what, details }),
        ...did.map((text) => ({ text: `→ ${text}` })),
        ...(note === undefined ? [] : [{ text: `note: ${note}` }]),
      ],
    },
    { blocks: byWords(entry, fact, station).map((text) => ({ text })) },
  ];
}

function inSentence({ details }: StepWords): Block[] {
  const joined = details.join('; ');
  // Signatures and hashes read better one below the other.
  return details.length === 0 ? [] : joined.length < 160 ? [{ text: joined }] : details.map((text) => ({ text }));
}

function flagsOf(entry: SealedEntry, fact: StationFact | undefined, marks: Report['marks']): string[] {
  const key = eventKey(entry);
  if (fact === undefined || key === undefined) return [];
  const [struck, anew] = [marks.annulled.get(key), marks.rejudged.get(key)];
  return [
    ...(marks.late.has(entry.seq) ? ['LATE'] : []),
    ...(struck === undefined ? [] : [`ANNULLED by entry ${String(struck)}`]),
    ...(anew === undefined ? [] : [`JUDGED ANEW by entry ${String(anew.seq)}`]),
  ];
}

function byWords(entry: SealedEntry, fact: StationFact | undefined, station: StationThen | undefined): string[] {
  if (fact === undefined) return [actorWords(entry)];
  const { operator, clearance, lots = {}, attachments = [] } = fact.data;
  const profile = profileOf(fact);
  const used = Object.entries(lots).map(([name, lot]) => `${name} ${lot}`);
  return [
    operator === undefined ? actorWords(entry) : `station ${station?.name ?? ''}, operator ${operator}`,
    ...(station === undefined ? [] : [calibrationWords(station)]),
    ...(profile === undefined ? [] : [`profile ${profile.name}@${profile.revision}`]),
    ...(used.length === 0 ? [] : [`lots: ${used.join(', ')}`]),
    ...clearanceWords(entry, clearance),
    ...(attachments.length === 0 ? [] : [`attachments: ${attachments.join(', ')}`]),
    `event ${entry.event?.id ?? ''}`,
  ];
}

/** Heats ask for a clearance; other steps do not. */
function clearanceWords(entry: SealedEntry, clearance: string | undefined): string[] {
  if (clearance !== undefined) {
    const used = effectsOf(entry).find((effect) => effect.kind === 'clearance-used');
    return [`clearance ${clearance}${used === undefined ? ' named, but not used' : `, step ${String(used.step + 1)}`}`];
  }
  return textIn(entry.data, 'clearance') === undefined && effectsOf(entry).some(isVerdict)
    ? ['no clearance named']
    : [];
}

function remember(stations: Map<string, StationThen & { overdue: number; told: number }>, station: StationThen): void {
  const key = `${station.name} ${String(station.revision)}`;
  const known = stations.get(key) ?? { ...station, overdue: 0, told: 0 };
  known.told += 1;
  if (station.valid === false) known.overdue += 1;
  stations.set(key, known);
}

function stationTable(
  stations: ReadonlyMap<string, StationThen & { overdue: number; told: number }>,
  { sheet }: Report,
): void {
  sheet.part('Stations, with their calibration as in force at that time');
  if (stations.size === 0) {
    sheet.paragraph('No station has told anything of this unit.');
    return;
  }
  const table = new SheetTable(sheet, [
    { title: 'Station', share: 20, head: true },
    { title: 'Kind', share: 16 },
    { title: 'Thermocouple', share: 18 },
    { title: 'Calibration due', share: 26 },
    { title: 'Entries; of them after the due date', share: 20 },
  ]);
  for (const { name, revision, data, told, overdue } of stations.values()) {
    const { thermocouple, calibrationDueAt } = data ?? {};
    table.row([
      revision === null ? name : `${name} r${String(revision)}`,
      data?.kind ?? 'not in the setup',
      thermocouple === undefined ? 'not told' : `type ${thermocouple.type}, class ${String(thermocouple.class)}`,
      calibrationDueAt === undefined ? 'no date set' : shownTime(calibrationDueAt),
      `${String(told)}; ${calibrationDueAt === undefined ? 'not known' : overdue === 0 ? 'none' : String(overdue)}`,
    ]);
  }
  table.end();
}
