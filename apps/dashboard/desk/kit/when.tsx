import { useEffect, useState } from 'react';
import { dateAndTime, lengthInWords } from './time-words.js';

const TICK_MS = 30_000;
const MINUTE_MS = 60_000;

/** The clock of the page, in milliseconds since 1970, renewed every half minute. */
export function useNow(): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    const timer = setInterval(() => {
      setNow(Date.now());
    }, TICK_MS);
    return () => {
      clearInterval(timer);
    };
  }, []);
  return now;
}

/** A moment: date and time. @param at RFC 3339 */
export function When({ at }: { readonly at: string }) {
  return <time dateTime={at}>{dateAndTime(at)}</time>;
}

/** How long ago a moment was, or how far ahead it is, with the moment itself on hovering. @param at RFC 3339 */
export function Ago({ at }: { readonly at: string }) {
  const ms = useNow() - Date.parse(at);
  const words = ms >= 0 ? (ms < MINUTE_MS ? 'just now' : `${lengthInWords(ms)} ago`) : `in ${lengthInWords(-ms)}`;
  return (
    <time dateTime={at} title={dateAndTime(at)}>
      {words}
    </time>
  );
}
