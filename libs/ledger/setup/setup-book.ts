import { LimitKind } from '../../domain/limits/limit-rule.js';
import { Rules, SETUP_KINDS, SetupKind, SetupRevision } from '../../domain/setup/setup-data.js';
import { subjectKey } from '../../domain/subject/subject.js';
import { SetupStore, StoredRevision } from '../ports/setup-store.js';

type RevisionsByName = Map<string, StoredRevision[]>;

/**
 * Every revision of the setup, kept at hand. Verdicts are judged under the setup as it stood at a version, so that
 * judging the same facts again gives the same book.
 */
export class SetupBook {
  private readonly byKind = new Map<SetupKind, RevisionsByName>(SETUP_KINDS.map((kind) => [kind, new Map()]));
  private readonly views = new Map<number, Rules>();
  /** Names of concessions by the subject they were given for. */
  private readonly conceded = new Map<string, Set<string>>();
  private version = 0;
  private catchingUp: Promise<void> | undefined;

  constructor(private readonly store: SetupStore) {}

  /** Reads what was revised since the last time. Concurrent calls share one reading that began after none of them. */
  async catchUp(): Promise<void> {
    while (this.catchingUp !== undefined) await this.catchingUp;
    this.catchingUp = this.readOn().finally(() => {
      this.catchingUp = undefined;
    });
    await this.catchingUp;
  }

  /** Makes sure that everything up to a version is at hand. */
  async reach(version: number): Promise<void> {
    if (this.version < version) await this.catchUp();
  }

  latest(): Rules {
    return this.at(this.version);
  }

  /** The setup as it stood at a version. A record that came later is seen from its first revision on, never before. */
  at(version: number): Rules {
    const known = this.views.get(version);
    if (known !== undefined) return known;
    const view = this.viewAt(version);
    // A rebuild looks at few versions; the bound only keeps a long life from keeping them all.
    if (this.views.size > 1000) this.views.clear();
    this.views.set(version, view);
    return view;
  }

  newest(kind: SetupKind, name: string): StoredRevision | undefined {
    return this.revisions(kind, name).at(-1);
  }

  /** Newest revision of every record of a kind, by name. */
  all(kind: SetupKind): StoredRevision[] {
    const newest = [...this.names(kind).values()].flatMap((revisions) => revisions.slice(-1));
    return newest.sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  /** Oldest first. */
  revisions(kind: SetupKind, name: string): StoredRevision[] {
    return this.names(kind).get(name) ?? [];
  }

  private names(kind: SetupKind): RevisionsByName {
    const names = this.byKind.get(kind);
    if (names === undefined) throw new Error(`no setup kind ${kind}`);
    return names;
  }

  private async readOn(): Promise<void> {
    for (const revision of await this.store.revisionsAfter(this.version)) {
      const names = this.names(revision.kind);
      const known = names.get(revision.name);
      if (known === undefined) names.set(revision.name, [revision]);
      else known.push(revision);
      if (revision.kind === 'concession') {
        const subject = subjectKey(revision.body.subject);
        this.conceded.set(subject, (this.conceded.get(subject) ?? new Set()).add(revision.name));
      }
      this.version = revision.version;
    }
  }

  private viewAt(version: number): Rules {
    const asOf = (revisions: readonly StoredRevision[] | undefined): StoredRevision | undefined =>
      revisions?.findLast((revision) => revision.version <= version);
    const limits = new Map<LimitKind, readonly (readonly SetupRevision<'limit'>[])[]>();
    return {
      version,
      find: <K extends SetupKind>(kind: K, name: string): SetupRevision<K> | undefined => {
        const found = asOf(this.names(kind).get(name));
        return found !== undefined && isOf(found, kind) ? found : undefined;
      },
      limits: (kind) => {
        const known = limits.get(kind);
        if (known !== undefined) return known;
        const found = this.limitsAt(version, kind);
        limits.set(kind, found);
        return found;
      },
      concessions: (subject) => {
        const names = this.conceded.get(subject);
        if (names === undefined) return NO_CONCESSIONS;
        return [...names].flatMap((name) => {
          const found = asOf(this.names('concession').get(name));
          const isMeant = found?.kind === 'concession' && subjectKey(found.body.subject) === subject;
          return isMeant ? [found] : [];
        });
      },
    };
  }

  private limitsAt(version: number, kind: LimitKind): readonly (readonly SetupRevision<'limit'>[])[] {
    return [...this.names('limit').values()].flatMap((revisions) => {
      const known = revisions.flatMap((one) => (one.kind === 'limit' && one.version <= version ? [one] : []));
      return known.at(-1)?.body.kind === kind ? [known.reverse()] : [];
    });
  }
}

const NO_CONCESSIONS: readonly SetupRevision<'concession'>[] = [];

function isOf<K extends SetupKind>(revision: StoredRevision, kind: K): revision is StoredRevision & SetupRevision<K> {
  return revision.kind === kind;
}
