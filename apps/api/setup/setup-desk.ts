import { Inject, Injectable } from '@nestjs/common';
import { SetupData, SetupKind } from '../../../libs/domain/setup/setup-data.js';
import { Principal } from '../../../libs/ledger/identity/principal.js';
import { StoredRevision } from '../../../libs/ledger/ports/setup-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ListBody, listBody, pageOfAll, PageQuery } from '../http/paging.js';
import { FieldProblem, ProblemError } from '../http/problem.js';

/** One revision of a setup record as routes answer it: the body with who entered it, and when. */
export type SetupRecord = SetupData[SetupKind] & {
  readonly name: string;
  readonly revision: number;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly by: string;
};

/** What the routes of every kind of setup record share. */
@Injectable()
export class SetupDesk {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /**
   * Creates or revises a record; a body that says nothing new adds no revision.
   * @param problems what is wrong with the body beyond its shape: where there is any, nothing is kept
   */
  async put<K extends SetupKind>(
    kind: K,
    name: string,
    body: SetupData[K],
    by: Principal,
    problems: readonly FieldProblem[] = [],
  ): Promise<{ created: boolean; record: SetupRecord }> {
    const [first] = problems;
    if (first !== undefined) {
      throw new ProblemError('invalid-body', `${first.pointer} ${first.detail}.`, { errors: problems });
    }
    const { setup, setupStore } = this.deps;
    await setup.catchUp();
    const created = setup.newest(kind, name) === undefined;
    const stored = await setupStore.revise(kind, name, withoutGaps(body), by.name);
    await setup.catchUp();
    return { created, record: setupRecord(stored) };
  }

  /** The newest body of a record, where there is one. */
  async newest<K extends SetupKind>(kind: K, name: string): Promise<SetupData[K] | undefined> {
    await this.deps.setup.catchUp();
    return this.deps.setup.latest().find(kind, name)?.body;
  }

  /** @throws ProblemError not-found */
  async existing<K extends SetupKind>(kind: K, name: string): Promise<SetupData[K]> {
    const body = await this.newest(kind, name);
    if (body === undefined) throw unknownRecord(kind, name);
    return body;
  }

  async get(kind: SetupKind, name: string): Promise<SetupRecord> {
    await this.deps.setup.catchUp();
    const found = this.deps.setup.newest(kind, name);
    if (found === undefined) throw unknownRecord(kind, name);
    return setupRecord(found);
  }

  /** Newest revisions by name; `wanted` narrows them down. */
  async list(
    kind: SetupKind,
    query: PageQuery,
    wanted: (name: string) => boolean = () => true,
  ): Promise<ListBody<SetupRecord>> {
    await this.deps.setup.catchUp();
    const records = this.deps.setup.all(kind).filter(({ name }) => wanted(name));
    return listBody(query, (page) => pageOfAll(records, ({ name }) => name, page), setupRecord);
  }

  /** Every revision of a record, newest first. */
  async history(kind: SetupKind, name: string, query: PageQuery): Promise<ListBody<SetupRecord>> {
    await this.deps.setup.catchUp();
    const revisions = this.deps.setup.revisions(kind, name).toReversed();
    if (revisions.length === 0) throw unknownRecord(kind, name);
    return listBody(query, (page) => pageOfAll(revisions, ({ revision }) => `${revision}`, page), setupRecord);
  }
}

function setupRecord({ name, revision, at, by, body }: StoredRevision): SetupRecord {
  return { name, revision, at, by, ...body };
}

/** The body without the members that were left out, which the classes of bodies hold as undefined. */
function withoutGaps<T extends object>(body: T): T {
  return JSON.parse(JSON.stringify(body)) as T;
}

function unknownRecord(kind: SetupKind, name: string): ProblemError {
  return new ProblemError('not-found', `The setup has no ${kind} ${name}; enter it with PUT.`);
}
