import { AuditPerson } from '../../ledger/audits/audit-source.js';
import { pseudonymOf } from '../../ledger/signing/pseudonym.js';
import { shownTime } from './shown-values.js';
import { textIn } from './story-entry.js';

/** Whoever stands behind the commitments of signatures, by commitment. */
export type People = ReadonlyMap<string, AuditPerson>;

export function peopleOf(people: readonly AuditPerson[]): People {
  return new Map(people.map((person) => [person.commitment, person]));
}

/**
 * The name in print of whoever signed. A signature holds a commitment to it (`named`), or the name itself where it is of the
 * time before there were commitments; of an erased name the pseudonym is left.
 */
function printedNameOf(signature: unknown, people: People): string {
  const commitment = textIn(signature, 'named');
  if (commitment === undefined) return textIn(signature, 'printedName') ?? 'name not in this export';
  return people.get(commitment)?.printedName ?? `${pseudonymOf(commitment)} (name erased)`;
}

/** A signature as lines: who by printed name and account, when, with what meaning, over what content. */
export function signatureWords(signature: unknown, people: People): readonly string[] {
  const at = textIn(signature, 'at');
  return [
    `Signed by ${printedNameOf(signature, people)}, account ${textIn(signature, 'by') ?? 'not told'}`,
    `at ${at === undefined ? 'a time not told' : shownTime(at)}, meaning: ${textIn(signature, 'meaning') ?? 'not told'}`,
    `signed content SHA-256 ${textIn(signature, 'contentHash') ?? 'not told'}`,
  ];
}
