import type { Schemas } from '../api/client.js';

/** How far a containment is that is at work, as a bar and in words. */
export function ContainmentProgress({ state, progress }: Pick<Schemas['Containment'], 'state' | 'progress'>) {
  const { found, held } = progress;
  return (
    <div role="status" className="containment-progress">
      <progress {...(found !== null && { max: Math.max(found, 1), value: held })} aria-label="Holds prepared" />
      <p>
        {state === 'finding'
          ? 'Looking through the ledgers. Nothing is held yet; this page follows by itself.'
          : `${String(held)} of ${String(found ?? 0)} holds are prepared. None is in force before all are.`}
      </p>
    </div>
  );
}
