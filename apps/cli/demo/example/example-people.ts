import { seal } from '../../../../libs/evidence/seal.js';
import { AuditPerson } from '../../../../libs/ledger/audits/audit-source.js';
import { Role } from '../../../../libs/ledger/identity/principal.js';
import { PersonNames } from '../../../../libs/ledger/ports/person-names.js';
import { Signer } from '../../../../libs/ledger/signing/signature.js';

interface ExamplePerson {
  /** Of the account. */
  readonly name: string;
  readonly printedName: string;
  readonly roles: readonly Role[];
}

/** Invented people, as everybody in the demo. */
const TESS: ExamplePerson = { name: 'tess', printedName: 'Tess Quillane', roles: ['quality'] };
const OVID: ExamplePerson = { name: 'ovid', printedName: 'Ovid Brackenby', roles: ['approver'] };

/** Works on holds. */
export const asQuality = (meaning: string): Signer => signerOf(TESS, meaning);
/** Approves, and signs what the customer concedes. */
export const asApprover = (meaning: string): Signer => signerOf(OVID, meaning);

/** Who stands behind the signatures of the example. */
export const exampleNames: PersonNames = {
  opened: (commitments) => {
    const people = [TESS, OVID].map(committed).filter(({ commitment }) => commitments.includes(commitment));
    return Promise.resolve(people.sort((a, b) => (a.commitment < b.commitment ? -1 : 1)));
  },
};

function signerOf(person: ExamplePerson, meaning: string): Signer {
  return { name: person.name, named: committed(person).commitment, roles: person.roles, meaning };
}

/** Real salts are drawn by chance; these are made of the name, so that the example is the same every time. */
function committed({ name, printedName }: ExamplePerson): AuditPerson {
  const salt = seal.sha256Hex(`salt of ${name}, for the example only`);
  return { commitment: seal.sha256Hex(seal.canonical({ name, printedName, salt })), name, printedName, salt };
}
