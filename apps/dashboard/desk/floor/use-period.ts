import { useSearchParams } from 'wouter';
import { instantsOf, type Instants, readPeriod } from './period.js';

/** The period that the address narrows down to, as the API takes it. */
export function usePeriod(): Instants {
  const [params] = useSearchParams();
  return instantsOf(readPeriod(params));
}
