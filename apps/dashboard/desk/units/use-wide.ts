import { useSyncExternalStore } from 'react';

/** From this width on lanes are drawn side by side; the shell turns at the same. */
const WIDE = '(min-width: 1001px)';

/** Whether there is room for a drawing that goes from left to right. */
export function useWide(): boolean {
  return useSyncExternalStore(follow, () => matchMedia(WIDE).matches);
}

function follow(tell: () => void): () => void {
  const width = matchMedia(WIDE);
  width.addEventListener('change', tell);
  return () => {
    width.removeEventListener('change', tell);
  };
}
