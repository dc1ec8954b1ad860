import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';

/** Whether a containment has not come to its end yet. */
export function isAtWork({ state }: Pick<Schemas['Containment'], 'state'>): boolean {
  return state === 'finding' || state === 'holding';
}

/** How many holds it has made, in all its rounds. */
export function heldInAll({ rounds }: Pick<Schemas['Containment'], 'rounds'>): number {
  return rounds.reduce((sum, { held }) => sum + (held ?? 0), 0);
}

/** How far a containment is, in a word and a figure. */
export function ContainmentState({ of }: { readonly of: Schemas['Containment'] }) {
  const { state, progress } = of;
  if (state === 'failed') return <Mark tone="stop">failed</Mark>;
  if (state === 'done') return <Mark tone="good">done, {heldInAll(of)} held</Mark>;
  if (state === 'finding') return <Mark tone="caution">looking through the ledgers</Mark>;
  return (
    <Mark tone="caution">
      {progress.held} of {progress.found ?? '?'} prepared
    </Mark>
  );
}
