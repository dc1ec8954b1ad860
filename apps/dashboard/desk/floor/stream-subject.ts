import type { SubjectLike } from '../kit/subject-link.js';

/** What an event says it is about, by the key of its ledger: `{assembly}/{serial}`, `devices/{device}`, `stations/{station}`. */
export function streamSubject(key: string): SubjectLike {
  const [first = '', second = ''] = key.split('/');
  if (first === 'devices') return { kind: 'device', device: second };
  if (first === 'stations') return { kind: 'station', station: second };
  return { kind: 'unit', assembly: first, serial: second };
}
