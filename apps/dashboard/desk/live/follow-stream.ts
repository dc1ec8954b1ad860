import type { QueryClient } from '@tanstack/react-query';
import { outdatedBy, type OutdatedKey } from './outdated-by.js';

/** Whether the stream is open; `since`: when that began, in milliseconds since 1970; null before the first try ended. */
export interface LiveState {
  readonly live: boolean;
  readonly since: number | null;
}

const MESSAGES = ['hold', 'entry', 'clearance'] as const;
/** What comes in a burst is asked for once. */
const GATHER_MS = 400;
/** How long to wait before a stream that the browser gave up is opened anew. */
const AGAIN_MS = 3000;

/**
 * Keeps a stream open for as long as it is wanted. The browser reconnects by itself and names the last message it had; where
 * it gives up (the service was away, or refused), the stream is opened anew and everything shown is asked for again.
 * @returns how to stop
 */
export function followStream(queries: QueryClient, tell: (state: LiveState) => void): () => void {
  let source: EventSource | undefined;
  let again: ReturnType<typeof setTimeout> | undefined;
  let live: boolean | undefined;
  const renewal = gatherer(queries);

  const say = (now: boolean) => {
    if (live === now) return;
    live = now;
    tell({ live: now, since: Date.now() });
  };
  const open = (first: boolean) => {
    source = new EventSource('/v1/stream');
    source.addEventListener('hello', () => {
      say(true);
      if (!first) renewal.everything();
    });
    source.addEventListener('reset', () => {
      say(true);
      renewal.everything();
    });
    source.addEventListener('open', () => {
      say(true);
    });
    for (const name of MESSAGES) {
      source.addEventListener(name, ({ data }: MessageEvent<string>) => {
        renewal.add(outdatedBy(name, data));
      });
    }
    source.addEventListener('error', () => {
      say(false);
      if (source?.readyState !== EventSource.CLOSED) return;
      again = setTimeout(() => {
        // A session that has ended shows itself by this question.
        void queries.invalidateQueries({ queryKey: ['session'] });
        open(false);
      }, AGAIN_MS);
    });
  };

  open(true);
  return () => {
    clearTimeout(again);
    source?.close();
    renewal.stop();
  };
}

interface Gatherer {
  add(outdated: readonly OutdatedKey[]): void;
  everything(): void;
  stop(): void;
}

/** Gathers what is out of date and has it asked for together. */
function gatherer(queries: QueryClient): Gatherer {
  const waiting = new Map<string, OutdatedKey>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    add: (outdated) => {
      for (const key of outdated) waiting.set(JSON.stringify(key), key);
      timer ??= setTimeout(() => {
        timer = undefined;
        for (const queryKey of waiting.values()) void queries.invalidateQueries({ queryKey });
        waiting.clear();
      }, GATHER_MS);
    },
    everything: () => void queries.invalidateQueries(),
    stop: () => {
      clearTimeout(timer);
    },
  };
}
