import { useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react';
import { followStream, type LiveState } from './follow-stream.js';

const LiveContext = createContext<LiveState>({ live: false, since: null });

/** Whether what the page shows is live, and since when it is or is not. */
export function useLive(): LiveState {
  return useContext(LiveContext);
}

/** Follows the stream while its children are shown, and renews what they show by what it says. */
export function LiveProvider({ children }: { readonly children: ReactNode }) {
  const queries = useQueryClient();
  const [state, setState] = useState<LiveState>({ live: false, since: null });
  useEffect(() => followStream(queries, setState), [queries]);
  return <LiveContext value={state}>{children}</LiveContext>;
}
