import { DEVICES, deviceSubject, Move, siteSubject, Step, UNMEASURED } from '../reference/gate-words.js';
import { NaiveBench } from '../reference/naive-bench.js';

/**
 * What somebody would do who looks at the board: nothing is taken off or levelled where it cannot be, and what is placed is
 * loose. Without this, drawn steps would soon contradict each other so much that nothing is ever cleared.
 */
export function sensibleStep<T extends Step | Move>(bench: NaiveBench, subject: string, step: T): T | Step {
  if (step.kind === 'reballing') return { kind: 'reballing', device: looseOne(bench, step.device) ?? step.device };
  if (!('site' in step)) return step;
  const { site, profile } = step;
  const isBare = (bench.carried.get(siteSubject(subject, site)) ?? null) === null;
  if (step.kind === 'placement' || step.kind === 'dressing') {
    if (!isBare) return step.kind === 'dressing' ? { kind: 'touch-up', site, profile } : removal(step);
    if (step.kind === 'dressing') return step;
    const device = looseOne(bench, step.device);
    return device === null ? { kind: 'dressing', site, method: 'braid', profile } : { ...step, device };
  }
  if (!isBare) return step;
  const device = looseOne(bench, null);
  return step.kind === 'touch-up' || device === null ? step : { kind: 'placement', site, device, profile };
}

/** The same for one step after the other. A bench is spoilt by it. */
export function sensiblePlan(bench: NaiveBench, subject: string, steps: readonly Step[]): readonly Step[] {
  return steps.map((step) => {
    if (step.kind === 'reballing' && step.device === null) return step;
    const chosen = sensibleStep(bench, subject, step);
    const on = chosen.kind === 'reballing' ? deviceSubject(String(chosen.device)) : subject;
    bench.happen(on, chosen, UNMEASURED);
    return chosen;
  });
}

function removal({ site, profile }: Extract<Step, { kind: 'placement' }>): Step {
  return { kind: 'removal', site, fate: 'keep', profile };
}

/** The one that is wanted, if it is loose; else another that is. */
function looseOne(bench: NaiveBench, wanted: string | null): string | null {
  const loose = Object.keys(DEVICES).filter((device) => bench.places.get(device) === 'loose');
  return wanted !== null && loose.includes(wanted) ? wanted : (loose[0] ?? null);
}
