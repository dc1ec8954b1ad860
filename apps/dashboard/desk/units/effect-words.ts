import type { Prior } from '../../../../libs/domain/book/tally.js';
import type { MoistureFact } from '../../../../libs/domain/moisture/moisture-ledger.js';
import type { BookEffect } from '../../../../libs/ledger/fold/book-effect.js';
import { basisWords, decisionWords, limitWords, reasonWords } from '../words/words.js';

/** What is spent, after a number. */
const SPENT: Readonly<Record<string, string>> = {
  'device-excursions': 'excursion of the device',
  'site-excursions': 'excursion of the site',
  'site-reworks': 'rework',
  'site-dressings': 'dressing',
  'unit-reflows': 'whole-board reflow',
};

const CONDITIONS: Readonly<Record<string, string>> = {
  fitted: 'carries its device',
  bare: 'is bare',
  dressed: 'is dressed',
  'to-dress': 'has to be dressed',
  'to-clean': 'has to be cleaned',
  damaged: 'is damaged',
  'to-rework': 'has to be reworked',
};

interface SubjectNamed {
  readonly kind: string;
  readonly refdes?: string;
  readonly device?: string;
  readonly station?: string;
  readonly operator?: string;
  readonly name?: string;
}

/** A subject as it is called within the ledger of its unit or device. */
export function shortSubject({ kind, refdes, device, station, operator, name }: SubjectNamed): string {
  return refdes ?? device ?? station ?? operator ?? name ?? (kind === 'unit' ? 'board' : kind);
}

/** What an entry did, by one of its effects. */
export function effectInWords(effect: BookEffect): string {
  switch (effect.kind) {
    case 'unit-opened':
      return `Opened with ${effect.sites.length} sites; whole-board reflows before: ${priorWords(effect.reflows)}`;
    case 'sites-opened':
      return `New sites: ${effect.sites.map(({ refdes }) => refdes).join(', ')}`;
    case 'unit-status':
      return `Board is now ${effect.status === 'in-house' ? 'in the house' : effect.status}`;
    case 'unit-received':
      return `Taken in${effect.workOrder === null ? '' : ` under ${effect.workOrder}`}`;
    case 'device-opened':
      return `${effect.device} is in the book; excursions before: ${priorWords(effect.prior)}`;
    case 'device-described':
      return `${effect.device} is of part ${effect.part}`;
    case 'device-named':
      return `${effect.formerly} is called ${effect.device} from here on`;
    case 'prior':
      return `${shortSubject(effect.subject)}, ${lower(limitWords(effect.limit))} before: ${priorWords(effect.prior)}`;
    case 'counted':
      return `${shortSubject(effect.subject)}: one ${spent(effect.limit)} counted, ${basisWords(effect.count.basis)}: ${effect.count.why}`;
    case 'clear':
      return `${shortSubject(effect.subject)}: no ${spent(effect.limit)}: ${effect.count.why}`;
    case 'possible':
      return `${shortSubject(effect.subject)}: perhaps one ${spent(effect.limit)}, not counted: ${effect.count.why}`;
    case 'mounted':
      return `${effect.device} sits on ${effect.place.refdes} of ${effect.place.assembly} / ${effect.place.serial}`;
    case 'unmounted':
      return `${effect.device} is off ${effect.refdes}${effect.to === null ? '' : `, ${effect.to}`}`;
    case 'device-status':
      return `${effect.device} is ${effect.status}`;
    case 'balls':
      return `${effect.device}: ${ballWords(effect.balls)}`;
    case 'site':
      return `${effect.refdes} ${CONDITIONS[effect.condition] ?? effect.condition}`;
    case 'site-alloys':
      return `${effect.refdes}: solder in the joint is ${effect.alloys.join(' with ')}`;
    case 'solder-contact':
      return `${effect.refdes}: molten ${effect.contact.solderAlloy} on the pads (${effect.contact.what})`;
    case 'remnant':
      return `${effect.refdes}: ${effect.filmUm === null ? 'a film' : `${effect.filmUm} µm`} of ${effect.alloy} left on the pads`;
    case 'lead-estimated':
      return `${effect.refdes}: about ${effect.estimate.leadPct.toPrecision(2)} wt% lead in the joint, an estimate`;
    case 'lead-measured':
      return `${effect.refdes}: ${effect.leadPct} wt% lead, measured`;
    case 'passes':
      return `${effect.refdes}: ${effect.passes} passes recorded`;
    case 'inspected':
      return `${effect.refdes}: ${effect.technique} ${effect.result === 'pass' ? 'passed' : 'failed'}`;
    case 'moisture':
      return moistureWords(effect.fact);
    case 'bath':
      return `Bath of ${effect.solderAlloy}: ${effect.leadPct} wt% lead, ${effect.copperPct} wt% copper`;
    case 'shipment':
      return effect.open.length === 0 ? 'Shipped with nothing open' : `Shipped while open: ${effect.open.join(', ')}`;
    default:
      return deskEffectWords(effect);
  }
}

type DeskEffect = Extract<
  BookEffect,
  { kind: `hold-${string}` | `clearance-${string}` | `concession-${string}` | 'warned' }
>;

/** Effects on what quality and stations agree on: holds, clearances, concessions, warnings. */
function deskEffectWords(effect: DeskEffect): string {
  switch (effect.kind) {
    case 'warned':
      return `Warning on ${shortSubject(effect.subject)}: ${effect.detail}`;
    case 'hold-called':
      return `Calls for a hold on ${shortSubject(effect.cause.subject)}: ${effect.cause.evidence.summary}`;
    case 'hold-raised':
      return `Hold raised on ${heldWords(effect)}`;
    case 'hold-disposed':
      return `Hold on ${heldWords(effect)}: ${lower(decisionWords(effect.decision))}`;
    case 'hold-released':
      return `Hold released on ${heldWords(effect)}`;
    case 'hold-withdrawn':
      return `Hold withdrawn, its cause is gone, on ${heldWords(effect)}`;
    case 'hold-cause-gone':
      return `The cause is gone of the hold on ${heldWords(effect)}; somebody has worked on it, so it stays`;
    case 'clearance-granted': {
      const reserved = new Set(effect.reserves.map(({ subject }) => shortSubject(subject)));
      return `Clearance granted, reserving for ${[...reserved].join(', ')}`;
    }
    case 'clearance-returned':
      return 'Clearance given back: what it reserved is free again';
    case 'clearance-lapsed':
      return 'Clearance ran out: what it reserved is free again';
    case 'clearance-used':
      return `Done under clearance, step ${effect.step + 1}`;
    case 'concession-signed':
      return `Concession: ${effect.allowed} allowed for ${shortSubject(effect.subject)}, ${lower(limitWords(effect.limit))}`;
    case 'concession-withdrawn':
      return `Concession withdrawn for ${shortSubject(effect.subject)}, ${lower(limitWords(effect.limit))}`;
    default:
      return (effect as { kind: string }).kind;
  }
}

function heldWords({ subject, reason }: Extract<BookEffect, { kind: 'hold-raised' }> | HeldEffect): string {
  return `${shortSubject(subject)}: ${lower(reasonWords(reason))}`;
}

type HeldEffect = Extract<BookEffect, { hold: string }>;

function priorWords({ count, basis }: Prior): string {
  return basis === 'unknown' ? 'unknown' : `${count}, ${basisWords(basis)}`;
}

function spent(limit: string): string {
  return SPENT[limit] ?? limit;
}

function ballWords(balls: Extract<BookEffect, { kind: 'balls' }>['balls']): string {
  if (balls.state === 'reballed') return `reballed with ${balls.alloy}`;
  return balls.state === 'none' ? 'without balls' : 'balls as made';
}

function moistureWords(fact: MoistureFact): string {
  switch (fact.kind) {
    case 'baked':
      return `Moisture: baked at ${fact.bake.temperatureC} °C`;
    case 'exposed':
      return fact.storage === 'open' ? 'Moisture: the clock runs' : 'Moisture: stored dry';
    case 'dry-pack-sealed':
      return 'Moisture: dry from its sealed pack';
  }
}

function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
