import { useEffect, useState } from 'react';

/** A value once it has stood for so long, so that what changes quickly is said once. */
export function useSettled<Value>(value: Value, forMs: number): Value {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(setSettled, forMs, value);
    return () => {
      clearTimeout(timer);
    };
  }, [value, forMs]);
  return settled;
}
