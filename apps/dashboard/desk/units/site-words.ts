import type { Schemas } from '../api/client.js';
import { basisWords } from '../words/words.js';

type Site = Schemas['Site'];

export interface Marked {
  readonly tone: 'plain' | 'stop' | 'caution' | 'good';
  readonly words: string;
}

const CONDITIONS: Readonly<Record<Site['condition'], Marked>> = {
  fitted: { tone: 'plain', words: 'fitted' },
  bare: { tone: 'plain', words: 'bare' },
  dressed: { tone: 'plain', words: 'dressed' },
  'to-dress': { tone: 'caution', words: 'to be dressed again' },
  'to-clean': { tone: 'caution', words: 'to be cleaned' },
  'to-rework': { tone: 'caution', words: 'to be reworked' },
  damaged: { tone: 'stop', words: 'damaged' },
};

/** What a site is like now. */
export function conditionOf({ condition }: Site): Marked {
  return CONDITIONS[condition];
}

const UNIT_STATES: Readonly<Record<Schemas['Unit']['state'], string>> = {
  expected: 'not received yet',
  'in-house': 'in the house',
  shipped: 'shipped',
  scrapped: 'scrapped',
};

/** Where a unit is in its life. A state without words is shown as it is. */
export function unitStateWords(state: string): string {
  return Object.entries(UNIT_STATES).find(([known]) => known === state)?.[1] ?? state;
}

/** Pad copper of a site: how much is left, and what that rests on. */
export function copperInWords({ copper }: Site): string {
  if (copper === null) return 'not known: the assembly has no such site now';
  const of = `of ${round(copper.startUm, 1)} µm`;
  if (copper.leftUm === null) return `not known ${of}`;
  const left = `${round(copper.leftUm, 1)} ${of}`;
  if (copper.certainty === 'not-modelled') return `${left} before the model ends`;
  return copper.certainty === 'at-most'
    ? `at most ${left}, rates ${copper.basis}`
    : `${left} left, rates ${copper.basis}`;
}

/** Lead in the joint, wt%: measured before estimated. */
export function leadInWords({ lead }: Site): string {
  if (lead.measuredPct !== null) return `${round(lead.measuredPct, 3)} wt%, measured`;
  if (lead.estimate === null) return 'no figure';
  return `${round(lead.estimate.leadPct, 3)} wt%, estimate (${basisWords(lead.estimate.basis)})`;
}

const TECHNIQUES: Readonly<Record<string, string>> = {
  visual: 'visual',
  xray: 'X-ray',
  'height-map': 'height map',
  xrf: 'XRF',
  ionic: 'ionic',
  electrical: 'electrical',
};

/** The newest result of each inspection, failures first. */
export function inspectionsOf({ inspected }: Site): readonly Marked[] {
  return Object.entries(inspected)
    .map(([technique, result]) => ({
      tone: result === 'pass' ? ('good' as const) : ('stop' as const),
      words: `${TECHNIQUES[technique] ?? technique} ${result === 'pass' ? 'passed' : 'failed'}`,
    }))
    .toSorted((one, other) => Number(one.tone === 'good') - Number(other.tone === 'good'));
}

/** Whether a device has no name of its own yet and is called after the place it came on. */
export function isUnnamed(device: string): boolean {
  return /^[^:]+:[^:]+:[^:]+$/.test(device);
}

/**
 * A device in few words: its name, or that nobody has read its label yet.
 * @param on the site it is said of; that it came on that one goes without saying
 */
export function deviceInWords(device: string, on?: string): string {
  if (!isUnnamed(device)) return device;
  const cameOn = device.split(':').at(-1) ?? '';
  return cameOn === on ? 'label not read' : `label not read, came on ${cameOn}`;
}

/** A figure with at most so many decimals. */
export function round(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
