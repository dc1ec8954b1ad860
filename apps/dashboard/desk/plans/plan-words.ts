import { reasonWords } from '../words/words.js';

const PLAN_CODES: Readonly<Record<string, string>> = {
  'history-unknown': 'What came before is not known',
  'copper-unknown': 'Pad copper is not known',
  'lead-unknown': 'Lead is not known',
  'neighbour-possible': 'A neighbour may be reached',
  'profile-unnamed': 'No profile named',
  'device-unnamed': 'No device named',
  'device-missing': 'No device named',
  'hold-open': 'On hold',
  'decided-scrap': 'Decided to be scrapped',
  'route-closed': 'Goes back to its owner',
  'unknown-assembly': 'Assembly not in the setup',
  'unknown-site': 'Site not in the setup',
  'event-unjudged': 'Something posted waits to be judged',
};

/** What stands against a plan or a clearance, or is warned about with it, in words. */
export function planReasonWords(code: string): string {
  return PLAN_CODES[code] ?? reasonWords(code);
}
