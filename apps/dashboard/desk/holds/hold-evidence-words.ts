import { dateAndTime } from '../kit/time-words.js';
import { entryWords } from '../words/words.js';

const MOMENT = /\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)/g;
const TYPE = /heatbook\.[a-z.]+\.v\d+/g;

/** The words of evidence and remedies as a page shows them: moments as they are here, types of entries as what they tell. */
export function evidenceInWords(text: string): string {
  return text.replace(MOMENT, dateAndTime).replace(TYPE, (type) => `“${entryWords(type)}”`);
}
