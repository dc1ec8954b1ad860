import { profileName } from '../../domain/setup/setup-data.js';
import { SealedEntry } from '../ports/seal.js';
import { traceNamed } from '../traces/trace-named.js';
import { memberOf } from './member-of.js';

/** What entries name, gathered one entry at a time: it grows with the names, not with the entries. */
export class EntryMarks {
  /** Versions of the setup that they were judged under. */
  readonly versions = new Set<number>();
  readonly stations = new Set<string>();
  readonly operators = new Set<string>();
  /** As `profileName` makes them. */
  readonly profiles = new Set<string>();
  readonly parts = new Set<string>();
  readonly traces = new Set<string>();
  /** Of persons who signed. */
  readonly commitments = new Set<string>();

  add({ event, data, rules }: Pick<SealedEntry, 'event' | 'data' | 'rules'>): void {
    this.versions.add(rules);
    addText(this.stations, event?.source.split('/')[2]);
    addText(this.operators, memberOf(data, 'operator'));
    addText(this.parts, memberOf(data, 'part'));
    addText(this.traces, traceNamed(data));
    addText(this.commitments, commitmentIn(memberOf(data, 'signature')));
    addText(this.commitments, commitmentIn(memberOf(data, 'signed')));
    const profile = memberOf(data, 'profile');
    const [name, revision] = [memberOf(profile, 'name'), memberOf(profile, 'revision')];
    if (typeof name === 'string' && typeof revision === 'string') this.profiles.add(profileName({ name, revision }));
  }
}

/** The commitment that a signature holds; older ones have a printed name instead. */
export function commitmentIn(signature: unknown): string | undefined {
  const named = memberOf(signature, 'named');
  return typeof named === 'string' ? named : undefined;
}

function addText(names: Set<string>, value: unknown): void {
  if (typeof value === 'string') names.add(value);
}
