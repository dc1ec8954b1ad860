import { HoldSubject } from '../../libs/domain/holds/hold-subject.js';
import { Subject } from '../../libs/domain/subject/subject.js';
import { profileRef } from './gate-events.js';

/** A subject that is worked on, from how the naive gate writes it. */
export function subjectOf(text: string): Subject {
  const [stream = '', refdes] = text.split('#');
  const [assembly = '', serial = ''] = stream.split('/');
  if (assembly === 'devices') return { kind: 'device', device: serial };
  return refdes === undefined ? { kind: 'unit', assembly, serial } : { kind: 'site', assembly, serial, refdes };
}

export function holdSubjectOf(text: string): HoldSubject {
  const [kind, name = ''] = text.split('/');
  if (kind === 'stations') return { kind: 'station', station: name };
  if (kind === 'operators') return { kind: 'operator', operator: name };
  return kind === 'profiles' ? { kind: 'profile', ...profileRef(name) } : subjectOf(text);
}

/** How the naive gate writes a subject. */
export function textOf(subject: HoldSubject): string {
  switch (subject.kind) {
    case 'unit':
      return `${subject.assembly}/${subject.serial}`;
    case 'site':
      return `${subject.assembly}/${subject.serial}#${subject.refdes}`;
    case 'device':
      return `devices/${subject.device}`;
    case 'station':
      return `stations/${subject.station}`;
    case 'operator':
      return `operators/${subject.operator}`;
    case 'profile':
      return `profiles/${subject.name}`;
  }
}

/** Whether a hold is about how a board left: what the naive gate does not judge. */
export function isAboutShipment({ reason }: { readonly reason: string }): boolean {
  return reason === 'shipped-open' || reason === 'late-event';
}
