/** What a key does in the list of holds. */
export type DeskAct =
  | { readonly act: 'move'; readonly by: number; readonly stretch: boolean }
  | { readonly act: 'pick' | 'assign' | 'clear' | 'renew' | 'help' };

interface Pressed {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

const MOVES: Readonly<Record<string, number>> = { ArrowDown: 1, j: 1, ArrowUp: -1, k: -1, PageDown: 10, PageUp: -10 };
const ACTS: Readonly<Record<string, 'pick' | 'assign' | 'clear' | 'renew' | 'help'>> = {
  x: 'pick',
  a: 'assign',
  Escape: 'clear',
  r: 'renew',
  '?': 'help',
};

/** What was meant by a key, while the list has the keyboard; undefined where it is the browser's. */
export function deskAct({ key, shiftKey, ctrlKey, metaKey, altKey }: Pressed): DeskAct | undefined {
  if (ctrlKey || metaKey || altKey) return undefined;
  const name = key.length === 1 ? key.toLowerCase() : key;
  const by = MOVES[name];
  if (by !== undefined) return { act: 'move', by, stretch: shiftKey };
  const act = ACTS[name];
  return act === undefined ? undefined : { act };
}

/** The keys, for whoever asks. */
export const DESK_KEYS: readonly { readonly keys: readonly string[]; readonly does: string; readonly picks?: true }[] =
  [
    { keys: ['j', '↓'], does: 'Next hold' },
    { keys: ['k', '↑'], does: 'Hold before' },
    { keys: ['Page Down', 'Page Up'], does: 'Ten on, ten back' },
    { keys: ['Enter'], does: 'Open the hold' },
    { keys: ['x'], does: 'Select the hold, or no longer', picks: true },
    { keys: ['Shift ↓', 'Shift ↑'], does: 'Select from here on', picks: true },
    { keys: ['a'], does: 'Assign what is selected', picks: true },
    { keys: ['Escape'], does: 'Select nothing', picks: true },
    { keys: ['r'], does: 'Bring the list up to date' },
    { keys: ['?'], does: 'These keys' },
  ];
