import type { ExplainedHold } from './hold-shape.js';

/** Holds whose way out leads through heat, solder or solvents at the bench. */
const BENCH: readonly string[] = [
  'device-excursions',
  'site-reworks',
  'site-dressings',
  'site-excursions',
  'unit-reflows',
  'pad-copper-min',
  'joint-lead-max',
  'flatness-max',
  'void-fraction-max',
  'body-peak-max',
  'profile-window',
  'floor-life',
  'damage-found',
  'method-allowed',
];

/** What to mind where the way out leads to the bench. */
export function HoldCautions({ hold: { reason, decision, state, subject } }: { readonly hold: ExplainedHold }) {
  const isBoard = subject.kind === 'unit' || subject.kind === 'site' || subject.kind === 'device';
  const leadsToBench = BENCH.includes(reason) || decision === 'rework' || decision === 'repair';
  if (!isBoard || state !== 'open' || !leadsToBench) return null;
  return (
    <p className="quiet">
      At the bench: eye and burn protection, fume extraction, lead hygiene, ESD. Local rules and the makers&rsquo; data
      sheets come first.
    </p>
  );
}
