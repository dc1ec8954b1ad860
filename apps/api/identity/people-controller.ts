import { Body, Controller, Get, HttpCode, Inject, Param, Post, Put, Query } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import { erasePerson } from '../../../libs/ledger/identity/erase-person.js';
import { type Person, PersonErased, type Stamp } from '../../../libs/ledger/ports/person-store.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { PasswordDesk } from './password-desk.js';
import { accountIn, ErasureBody, NewPasswordBody, NewPersonBody, PersonBody } from './person-bodies.js';
import { type PersonChangeView, personChangeView, type PersonView, personView } from './person-view.js';
import { Caller, PEOPLE, Roles } from './roles.js';
import { SigningDesk } from './signing-desk.js';

@ApiTags('people')
@Roles('admin', 'quality', 'auditor')
@Controller('v1/people')
export class PeopleController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly passwords: PasswordDesk,
    private readonly signing: SigningDesk,
  ) {}

  @Post()
  @Roles('admin')
  @Answers(201, 'The account.', ref('Person'))
  @Problems('unreadable-json', 'name-taken', 'invalid-body')
  async addPerson(@Body() body: NewPersonBody, @Caller() caller: Principal): Promise<PersonView> {
    const { name, password } = body;
    const account = accountIn(body);
    const hash = await this.passwords.hash(name, password);
    if (await this.people.add(name, account, hash, this.stamp(caller))) return personView(await this.existing(name));
    throw new ProblemError('name-taken', `There is an account ${name}; take another name, or revise it with PUT.`);
  }

  @Get()
  @Answers(200, 'Accounts by name.', pageOf(ref('Person')))
  @Problems('invalid-query')
  listPeople(@Query() query: PageQuery): Promise<ListBody<PersonView>> {
    return listBody(query, (page) => this.people.list(page), personView);
  }

  @Get(':name')
  @Answers(200, 'The account.', ref('Person'))
  @Problems('not-found')
  async getPerson(@Param('name') name: string): Promise<PersonView> {
    return personView(await this.existing(name));
  }

  @Put(':name')
  @Roles('admin')
  @Answers(
    200,
    'The account as it is now. Other roles, another customer or disabling it end its sessions.',
    ref('Person'),
  )
  @Problems('unreadable-json', 'not-found', 'person-erased', 'invalid-body')
  async revisePerson(
    @Param('name') name: string,
    @Body() body: PersonBody,
    @Caller() caller: Principal,
  ): Promise<PersonView> {
    const revised = await notErased(this.people.revise(name, accountIn(body), this.stamp(caller)));
    if (revised === undefined) throw unknownPerson(name);
    return personView(revised);
  }

  @Get(':name/changes')
  @Answers(200, 'Every change of the account, oldest first.', pageOf(ref('PersonChange')))
  @Problems('not-found', 'invalid-query')
  async listPersonChanges(@Param('name') name: string, @Query() query: PageQuery): Promise<ListBody<PersonChangeView>> {
    const { erasedAt } = await this.existing(name);
    const page = await listBody(
      query,
      (request) => this.people.changes(name, request),
      (change) => personChangeView(change, erasedAt !== null),
    );
    return withNames(this.deps.identity.names, page);
  }

  @Post(':name/password')
  @HttpCode(204)
  @Roles(...PEOPLE)
  @ApiResponse({ status: 204, description: 'Set. All sessions of the account have ended.' })
  @Problems('unreadable-json', 'wrong-password', 'not-found', 'person-erased', 'invalid-body', 'too-many-attempts')
  async setPersonPassword(
    @Param('name') name: string,
    @Body() { password, current }: NewPasswordBody,
    @Caller() caller: Principal,
  ): Promise<void> {
    if (caller.via === 'session' && caller.name === name) await this.confirmOwn(name, current);
    else if (!hasRole(caller, 'admin')) {
      throw new ProblemError('not-allowed', 'Set your own password; that of somebody else is for admin to set.');
    } else await this.existing(name);
    const hash = await this.passwords.hash(name, password);
    if (!(await notErased(this.people.setPassword(name, hash, this.stamp(caller))))) throw unknownPerson(name);
  }

  @Post(':name/erasure')
  @HttpCode(200)
  @Roles('admin')
  @Answers(200, 'The printed name is erased for good; the account is disabled and has a pseudonym.', ref('Erasure'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'own-account', 'account-needed')
  @Problems('invalid-body', 'too-many-attempts')
  async erasePerson(
    @Param('name') name: string,
    @Body() { note, signature }: ErasureBody,
    @Caller() caller: Principal,
  ): Promise<{ person: PersonView; signedInClear: number }> {
    const signer = await this.signing.signer(caller, signature);
    const { search, clock, book } = this.deps;
    const erased = await erasePerson({ people: this.people, search, clock, seal: book.seal }, { name, note, signer });
    if (erased === 'not-found') throw unknownPerson(name);
    if (erased === 'way-in') {
      throw new ProblemError(
        'account-needed',
        `${name} is the way in at the machine and nobody’s own: revise its printed name with PUT.`,
      );
    }
    if (erased === 'own') throw new ProblemError('own-account', 'Have another admin erase your name.');
    return { person: personView(erased.person), signedInClear: erased.signedInClear };
  }

  private async confirmOwn(name: string, current: string | undefined): Promise<void> {
    if (current !== undefined) {
      await this.passwords.confirm(name, current);
      return;
    }
    const errors = [{ pointer: '/current', detail: 'is missing' }];
    throw new ProblemError('invalid-body', 'Send the password until now as current.', { errors });
  }

  private get people(): ApiDeps['identity']['people'] {
    return this.deps.identity.people;
  }

  private async existing(name: string): Promise<Person> {
    const person = await this.people.find(name);
    if (person !== undefined) return person;
    throw unknownPerson(name);
  }

  private stamp(caller: Principal): Stamp {
    return { by: caller.name, at: this.deps.clock.now() };
  }
}

function unknownPerson(name: string): ProblemError {
  return new ProblemError('not-found', `There is no account ${name}; GET /v1/people lists them.`);
}

/** @throws ProblemError person-erased */
async function notErased<T>(change: Promise<T>): Promise<T> {
  try {
    return await change;
  } catch (error) {
    if (!(error instanceof PersonErased)) throw error;
    throw new ProblemError('person-erased', 'The name of this account was erased for good; make another account.');
  }
}
