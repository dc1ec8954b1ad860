import { AuditPerson } from '../audits/audit-source.js';
import { PersonNames } from '../ports/person-names.js';
import { pseudonymOf } from './pseudonym.js';

/** Who stands behind a commitment, as an answer says it. */
interface ShownName {
  /** As it is to be read in print; the pseudonym once the name was erased. */
  readonly printedName: string;
  readonly erased?: true;
}

type Shown = ReadonlyMap<string, ShownName>;

/**
 * An answer with printed names in the signatures that it shows. What is hashed is left as it is: beside an entry of a ledger
 * whose data are signed, `signer` says who it was.
 */
export async function withNames<T>(names: PersonNames, answer: T): Promise<T> {
  const commitments = new Set<string>();
  collect(answer, commitments);
  if (commitments.size === 0) return answer;
  const opened = await names.opened([...commitments]);
  return put(answer, new Map(opened.map((person) => [person.commitment, shown(person)]))) as T;
}

function shown({ commitment, printedName }: AuditPerson): ShownName {
  return printedName === null ? { printedName: pseudonymOf(commitment), erased: true } : { printedName };
}

function collect(value: unknown, commitments: Set<string>): void {
  if (typeof value !== 'object' || value === null) return;
  const named = isEntry(value) ? committedIn(signatureOf(value)) : committedIn(value);
  if (named !== undefined) commitments.add(named);
  if (!isEntry(value)) for (const member of Object.values(value)) collect(member, commitments);
}

function put(value: unknown, shownNames: Shown): unknown {
  if (Array.isArray(value)) return value.map((item) => put(item, shownNames));
  if (typeof value !== 'object' || value === null) return value;
  if (isEntry(value)) {
    const commitment = committedIn(signatureOf(value));
    const name = commitment === undefined ? undefined : shownNames.get(commitment);
    return name === undefined ? value : { ...value, signer: { named: commitment, ...name } };
  }
  const commitment = committedIn(value);
  const name = commitment === undefined ? undefined : shownNames.get(commitment);
  const members = Object.entries(value).map(([key, member]) => [key, put(member, shownNames)]);
  return { ...Object.fromEntries(members), ...name };
}

/** An entry's hash is over its members, so that nothing may be added within them. */
function isEntry(value: object): value is { readonly data: unknown } {
  return 'prevHash' in value && 'hash' in value && 'data' in value;
}

function signatureOf({ data }: { readonly data: unknown }): unknown {
  return typeof data === 'object' && data !== null && 'signature' in data ? data.signature : undefined;
}

/** Only a signature has both: what is signed names the commitment, too, and must stay as it was signed. */
function committedIn(value: unknown): string | undefined {
  if (typeof value !== 'object' || value === null || !('named' in value) || !('contentHash' in value)) return undefined;
  return typeof value.named === 'string' ? value.named : undefined;
}
