import { deviceKey, StreamKey, Subject, subjectKey, unitKey } from '../subject/subject.js';

/** What a person may put a hold on: what is worked on, or who and what works on it. */
export type HoldSubject =
  | Subject
  | { readonly kind: 'station'; readonly station: string }
  | { readonly kind: 'operator'; readonly operator: string }
  | { readonly kind: 'profile'; readonly name: string; readonly revision: string };

/** Whether rules can be judged for it: a unit, a site or a device. */
export function isSubject(subject: HoldSubject): subject is Subject {
  return subject.kind === 'unit' || subject.kind === 'site' || subject.kind === 'device';
}

/** A text that is equal for equal subjects; it begins with the key of the ledger that tells of the hold. */
export function holdSubjectKey(subject: HoldSubject): string {
  return isSubject(subject) ? subjectKey(subject) : streamOfHold(subject);
}

/**
 * Key of the ledger of what is held. Operators and profiles have one only for their holds; its key begins with `#`, which
 * no name may contain, so that it can be no unit's.
 */
export function streamOfHold(subject: HoldSubject): StreamKey {
  switch (subject.kind) {
    case 'unit':
    case 'site':
      return unitKey(subject.assembly, subject.serial);
    case 'device':
      return deviceKey(subject.device);
    case 'station':
      return `stations/${subject.station}`;
    case 'operator':
      return `#operators/${subject.operator}`;
    case 'profile':
      return `#profiles/${subject.name}@${subject.revision}`;
  }
}
