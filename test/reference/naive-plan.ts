import { deviceSubject, siteSubject, Spend, Step, UNITS, UNMEASURED } from './gate-words.js';
import { Story } from './naive-story.js';

/** A request for clearance. */
export interface Ask {
  /** A board, or `devices/{device}`. */
  readonly subject: string;
  readonly steps: readonly Step[];
  readonly station: string;
  readonly operator: string;
  readonly ttlMinutes: number;
}

/** A step of a plan as it was played through. */
export interface Played {
  readonly plan: Step;
  readonly device: string | null;
  readonly spends: readonly Spend[];
  /** What it works on or is known to heat. */
  readonly reach: ReadonlySet<string>;
}

/** Lets the steps of a plan happen, unmeasured. Where one is for no device that could be told, nothing of it is. */
export function playThrough(
  story: Story,
  wish: Ask,
): { readonly played: Played[]; readonly contradictions: readonly string[] } {
  const played: Played[] = [];
  const contradictions = new Set<string>();
  let kept = deviceNamed(wish.subject);
  for (const plan of wish.steps) {
    const device = deviceOf(story, wish.subject, plan, kept);
    if (plan.kind === 'reballing' && device === null) {
      return { played: [], contradictions: [`device-missing ${wish.subject}`] };
    }
    if (plan.kind === 'removal') kept = plan.fate === 'keep' ? device : null;
    const [subject, step] =
      plan.kind === 'reballing' ? [deviceSubject(device ?? ''), { ...plan, device }] : [wish.subject, plan];
    const deed = story.bench.happen(subject, step, UNMEASURED);
    for (const one of deed.contradictions) contradictions.add(`${one.reason} ${one.subject}`);
    const reach = reachOf(wish.subject, plan, device, deed.spends);
    played.push({ plan, device, spends: deed.spends, reach });
  }
  return { played, contradictions: [...contradictions] };
}

/** Whether a stop has to do with a plan; `code` is what it stops by. */
export function concerns(subject: string, code: string, wish: Ask, played: readonly Played[]): boolean {
  if (subject === `stations/${wish.station}` || subject === `operators/${wish.operator}`) return true;
  if (subject.startsWith('profiles/')) {
    return wish.steps.some((step) => 'profile' in step && subject === `profiles/${step.profile}`);
  }
  if (UNITS.some((unit) => unit === subject)) return subject === wish.subject;
  const isItsSite = subject.startsWith(`${wish.subject}#`);
  if (isItsSite && code !== 'hold-open') return true;
  return played.some((step) => step.reach.has(subject) && !isItsRemovalToScrap(step, subject));
}

function isItsRemovalToScrap({ plan, device }: Played, subject: string): boolean {
  return plan.kind === 'removal' && plan.fate === 'scrap' && device !== null && subject === deviceSubject(device);
}

function deviceNamed(subject: string): string | null {
  return subject.startsWith('devices/') ? subject.slice('devices/'.length) : null;
}

function deviceOf(story: Story, subject: string, step: Step, kept: string | null): string | null {
  if (step.kind === 'placement') return step.device;
  if (step.kind === 'reballing') return step.device ?? kept;
  return step.kind === 'removal' ? (story.bench.carried.get(siteSubject(subject, step.site)) ?? null) : null;
}

function reachOf(subject: string, step: Step, device: string | null, spends: readonly Spend[]): ReadonlySet<string> {
  const site = 'site' in step ? [siteSubject(subject, step.site)] : [];
  return new Set([...spends.map((one) => one.subject), ...site, ...(device === null ? [] : [deviceSubject(device)])]);
}
