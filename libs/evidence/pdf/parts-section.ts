import { BookEffect } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { stepWords } from './event-words.js';
import { bookEntryWords } from './book-entry-words.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { counted, shownTime } from './shown-values.js';
import { effectsOf, eventKey, factOf } from './story-entry.js';

const PACE = 25;
/** Devices, and entries of each, that are told; the JSON file has all. */
const MOST_DEVICES = 60;
const MOST_ENTRIES = 40;

/** What came onto the unit and what left it, where it went, and what else befell those devices. */
export async function* partsSection(report: Report): AsyncGenerator<undefined, void> {
  const { source, sheet, marks } = report;
  sheet.begin('Parts in and out', 2);
  const table = new SheetTable(sheet, [
    { title: 'Entry', share: 7, head: true },
    { title: 'When', share: 24 },
    { title: 'Device', share: 29 },
    { title: 'What became of it', share: 40 },
  ]);
  let rows = 0;
  for await (const entry of source.ledger.entries()) {
    const effects = marks.rejudged.get(eventKey(entry) ?? '')?.effects ?? effectsOf(entry);
    for (const [device, words] of effects.flatMap((effect) => moveWords(effect))) {
      table.row([String(entry.seq), shownTime(entry.time), device, `${words}${lotsOf(entry)}`]);
      rows += 1;
      if (rows % PACE === 0) yield;
    }
  }
  if (rows === 0) sheet.paragraph('No device came or went.');
  table.end();
  yield* otherLedgers(report);
}

/** Device, and what an effect says of where it went. */
function moveWords(effect: BookEffect): (readonly [device: string, words: string])[] {
  switch (effect.kind) {
    case 'device-opened':
      return [
        [
          effect.device,
          `${effect.place === null ? 'known' : `aboard on ${effect.place.refdes}`}, part ${effect.part ?? 'unknown'}`,
        ],
      ];
    case 'device-described': {
      const { device, part, lot, dateCode, owner } = effect;
      const told = [
        lot === null ? '' : `, lot ${lot}`,
        dateCode === null ? '' : `, date code ${dateCode}`,
        owner === null ? '' : `, owner ${owner}`,
      ];
      return [[device, `part ${part}${told.join('')}`]];
    }
    case 'device-named':
      return [[effect.device, `its label was read; it was known as ${effect.formerly} until then`]];
    case 'mounted':
      return [[effect.device, `onto ${effect.place.refdes} (${effect.how}), joint of ${effect.alloys.join(' and ')}`]];
    case 'unmounted': {
      const to =
        effect.to === 'scrapped' ? 'scrapped' : effect.to === 'loose' ? 'kept, loose' : 'where its own record has it';
      return [[effect.device, `off ${effect.refdes}: ${to}`]];
    }
    case 'device-status':
      return [[effect.device, effect.status]];
    default:
      return [];
  }
}

function lotsOf(entry: SealedEntry): string {
  const lots = factOf(entry)?.data.lots ?? {};
  const told = Object.entries(lots).map(([name, lot]) => `${name} lot ${lot}`);
  return told.length === 0 ? '' : `; ${told.join(', ')}`;
}

async function* otherLedgers({ source, sheet, people }: Report): AsyncGenerator<undefined, void> {
  const { devices } = source;
  if (source.audience.for === 'customer') return;
  sheet.part('What the devices’ own ledgers tell besides');
  sheet.paragraph(
    'A device that was on this unit has a ledger of its own, which goes with it from board to board. Told here: steps that were ' +
      'done to the device alone, and its moves; heats on other boards are in the audits of those.',
  );
  if (devices.length === 0) sheet.paragraph('None of the devices has a ledger of its own.');
  const table = new SheetTable(sheet, [
    { title: 'Device', share: 24, head: true },
    { title: 'No.', share: 6 },
    { title: 'When', share: 24 },
    { title: 'What', share: 46 },
  ]);
  for (const ledger of devices.slice(0, MOST_DEVICES)) {
    const { device, count } = ledger;
    let told = 0;
    for await (const entry of ledger.entries()) {
      if (told === MOST_ENTRIES) break;
      told += 1;
      const fact = factOf(entry);
      const { what, details } = fact === undefined ? bookEntryWords(entry, people) : stepWords(fact);
      table.row([device, String(entry.seq), shownTime(entry.time), [what, ...moved(entry), ...details].join('; ')]);
    }
    if (count > told) table.row([device, '', '', `${counted(count - told, 'entry', 'entries')} more in the JSON file`]);
    yield;
  }
  table.end();
  const left = devices.length - MOST_DEVICES;
  if (left > 0) sheet.paragraph(`${counted(left, 'device is', 'devices are')} left to the JSON file.`);
}

function moved(entry: SealedEntry): string[] {
  return effectsOf(entry).flatMap((effect) => {
    if (effect.kind === 'mounted')
      return [`onto ${effect.place.assembly}/${effect.place.serial}, ${effect.place.refdes}`];
    if (effect.kind === 'device-named') return [`its label was read; known as ${effect.formerly} until then`];
    if (effect.kind === 'unmounted') return [`off ${effect.unit}, ${effect.refdes}`];
    if (effect.kind === 'counted' && effect.limit === 'device-excursions')
      return [`one excursion: ${effect.count.why}`];
    return [];
  });
}
