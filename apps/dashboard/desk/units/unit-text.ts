import { entryWords, reasonWords } from '../words/words.js';

/** A text of the API with the types of events as what happened: `Device reballed was done without clearance`. */
export function withEntryWords(text: string): string {
  return text.replace(/heatbook(?:\.[a-z]+)+\.v\d+/g, (type) => `“${entryWords(type)}”`);
}

const WARNINGS: Readonly<Record<string, string>> = {
  'history-unknown': 'History not known',
  'prior-ignored': 'A declared history came too late',
  'not-received': 'Never received',
  'neighbour-possible': 'A neighbour may have been heated',
  'alloy-unknown': 'Alloy not known',
  'profile-unknown': 'Profile not known',
  'part-unknown': 'Part not known',
  'part-differs': 'Another part than the site takes',
  'site-not-dressed': 'Site not dressed',
  'thermocouple-unplaced': 'Thermocouple of unknown place',
  'operator-unknown': 'Operator not known',
  'lead-disagreement': 'Lead measured and estimated disagree',
};

/** What a warning is about. A code that has no words is shown as it is. */
export function warningWords(code: string): string {
  return WARNINGS[code] ?? reasonWords(code);
}

const PLANNED: Readonly<Record<string, string>> = {
  'heatbook.unit.reflowed.v1': 'reflow the board',
  'heatbook.device.removed.v1': 'remove the device',
  'heatbook.site.dressed.v1': 'dress the site',
  'heatbook.device.placed.v1': 'place the device',
  'heatbook.site.heated.v1': 'heat the site',
  'heatbook.device.deballed.v1': 'deball the device',
  'heatbook.device.reballed.v1': 'reball the device',
};

/** A planned step, as what is to be done. */
export function plannedWords(type: string): string {
  return PLANNED[type] ?? type;
}
