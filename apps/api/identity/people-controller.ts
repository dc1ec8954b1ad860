import { Body, Controller, Get, HttpCode, Inject, Param, Post, Put, Query } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import type { Person, Stamp } from '../../../libs/ledger/ports/person-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { PasswordDesk } from './password-desk.js';
import { accountIn, NewPasswordBody, NewPersonBody, PersonBody } from './person-bodies.js';
import { type PersonChangeView, personChangeView, type PersonView, personView } from './person-view.js';
import { Caller, PEOPLE, Roles } from './roles.js';

@ApiTags('people')
@Roles('admin', 'quality', 'auditor')
@Controller('v1/people')
export class PeopleController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly passwords: PasswordDesk,
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
  @Problems('unreadable-json', 'not-found', 'invalid-body')
  async revisePerson(
    @Param('name') name: string,
    @Body() body: PersonBody,
    @Caller() caller: Principal,
  ): Promise<PersonView> {
    const revised = await this.people.revise(name, accountIn(body), this.stamp(caller));
    if (revised === undefined) throw unknownPerson(name);
    return personView(revised);
  }

  @Get(':name/changes')
  @Answers(200, 'Every change of the account, oldest first.', pageOf(ref('PersonChange')))
  @Problems('not-found', 'invalid-query')
  async listPersonChanges(@Param('name') name: string, @Query() query: PageQuery): Promise<ListBody<PersonChangeView>> {
    await this.existing(name);
    return listBody(query, (page) => this.people.changes(name, page), personChangeView);
  }

  @Post(':name/password')
  @HttpCode(204)
  @Roles(...PEOPLE)
  @ApiResponse({ status: 204, description: 'Set. All sessions of the account have ended.' })
  @Problems('unreadable-json', 'wrong-password', 'not-found', 'invalid-body', 'too-many-attempts')
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
    if (!(await this.people.setPassword(name, hash, this.stamp(caller)))) throw unknownPerson(name);
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
