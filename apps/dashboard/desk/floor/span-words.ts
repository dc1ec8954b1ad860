import { dateAndTime } from '../kit/time-words.js';

/** From when to when, to the minute: `2026-03-03 18:58 to 19:41`; the second day only where it is another. @param firstAt RFC 3339 */
export function spanInWords(firstAt: string, lastAt: string): string {
  const [first, last] = [dateAndTime(firstAt), dateAndTime(lastAt)];
  if (first === last) return first;
  const [day, time = ''] = last.split(' ');
  return first.startsWith(`${day ?? ''} `) ? `${first} to ${time}` : `${first} to ${last}`;
}
