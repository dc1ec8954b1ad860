import { canonicalJson } from '../canonical-json.js';
import type { HashText } from './hash-text.js';
import { Malformed, Members } from './read-members.js';
import { ofTheFile, type Finding } from './verification-report.js';

interface OpenedPerson {
  readonly name: string;
  /** Null after an erasure. */
  readonly printedName: string | null;
}

export interface OpenedPeople {
  readonly byCommitment: ReadonlyMap<string, OpenedPerson>;
  readonly findings: readonly Finding[];
}

/** Opens the commitments of a file: each is the SHA-256 of the canonical form of `{name, printedName, salt}`. */
export function verifyPeople(people: readonly unknown[], hashText: HashText): OpenedPeople {
  const byCommitment = new Map<string, OpenedPerson>();
  const findings: Finding[] = [];
  people.forEach((value, index) => {
    try {
      const person = Members.of(value, `/people/${index}`);
      const commitment = person.hash('commitment');
      const [name, printedName, salt] = [
        person.text('name'),
        person.textOrNull('printedName'),
        person.textOrNull('salt'),
      ];
      if ((printedName === null) !== (salt === null)) {
        throw person.malformed('salt', 'is there without a printed name, or missing beside one');
      }
      if (byCommitment.has(commitment)) {
        findings.push(ofTheFile('person-twice', `The commitment ${commitment} stands twice in "people".`));
      } else if (printedName !== null && hashText(canonicalJson({ name, printedName, salt })) !== commitment) {
        const what = `Name, printed name and salt of ${name} (/people/${index}) do not give the commitment beside them.`;
        findings.push(ofTheFile('person-mismatch', what));
      }
      byCommitment.set(commitment, { name, printedName });
    } catch (error) {
      // A lone surrogate has no canonical form.
      const why = error instanceof Malformed ? error.message : `/people/${index} cannot be hashed`;
      findings.push(ofTheFile('person-malformed', `A printed name cannot be checked: ${why}.`));
    }
  });
  return { byCommitment, findings };
}
