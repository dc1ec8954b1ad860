import { hasRole } from '../../../libs/ledger/identity/principal.js';
import type { PersonStore } from '../../../libs/ledger/ports/person-store.js';
import { ProblemError } from '../http/problem.js';

/**
 * Makes sure that somebody can be given a hold: a person who can sign in and has role quality, approver or operator.
 * @throws ProblemError assignee-unfit
 */
export async function fitAssignee(people: Pick<PersonStore, 'find'>, name: string | null | undefined): Promise<void> {
  if (name === null || name === undefined) return;
  const person = await people.find(name);
  const unfit = (detail: string): ProblemError =>
    new ProblemError('assignee-unfit', `${detail} Give the hold to a person with role quality, approver or operator.`, {
      errors: [{ pointer: '/assignee', detail: 'is nobody who can work on a hold' }],
    });
  if (person === undefined) throw unfit(`There is no account ${name}.`);
  if (person.disabled) throw unfit(`The account ${name} is disabled.`);
  if (!hasRole(person, 'quality', 'approver', 'operator')) {
    throw unfit(`${name} has role ${person.roles.join(', ')}, which works on no hold.`);
  }
}
