import { SetupKind } from '../../domain/setup/setup-data.js';
import { SealedEntry } from '../ports/seal.js';
import { StoredRevision } from '../ports/setup-store.js';

/** The setup's revisions, oldest first per record. */
export interface RevisionSource {
  all(kind: SetupKind): readonly StoredRevision[];
  revisions(kind: SetupKind, name: string): readonly StoredRevision[];
}

/**
 * The setup revisions that entries on an assembly were judged by: of the assembly, its parts, the stations, operators
 * and profiles that the entries name, and the limits that could apply, each as it stood at the versions that the entries
 * name. In the order in which they came into force.
 */
export function auditConfiguration(
  setup: RevisionSource,
  assembly: string,
  entries: readonly SealedEntry[],
): readonly StoredRevision[] {
  const versions = [...new Set(entries.map(({ rules }) => rules))];
  const inForce = (kind: SetupKind, name: string): StoredRevision[] => {
    const revisions = setup.revisions(kind, name);
    return versions.flatMap((version) => revisions.findLast((revision) => revision.version <= version) ?? []);
  };
  const designs = inForce('assembly', assembly);
  const named = namesIn(entries);
  const parts = new Set([...partsOf(designs), ...named.part]);
  const found = [
    ...designs,
    ...[...parts].flatMap((name) => inForce('part', name)),
    ...[...named.station].flatMap((name) => inForce('station', name)),
    ...[...named.operator].flatMap((name) => inForce('operator', name)),
    ...[...named.profile].flatMap((name) => inForce('profile', name)),
    ...setup.all('limit').flatMap(({ name }) => limitsInForce(setup, name, versions)),
  ];
  const byVersion = new Map(found.filter((one) => couldApply(one, assembly, designs)).map((one) => [one.version, one]));
  return [...byVersion.values()].sort((a, b) => a.version - b.version);
}

/** A revision that takes effect later leaves those before it in force until then. */
function limitsInForce(setup: RevisionSource, name: string, versions: readonly number[]): StoredRevision[] {
  const revisions = setup.revisions('limit', name).toReversed();
  return versions.flatMap((version) => {
    const known = revisions.filter((revision) => revision.version <= version);
    const atOnce = known.findIndex(
      (revision) => revision.kind === 'limit' && revision.body.effectiveFrom === undefined,
    );
    return atOnce === -1 ? known : known.slice(0, atOnce + 1);
  });
}

function partsOf(designs: readonly StoredRevision[]): string[] {
  return designs.flatMap((design) => (design.kind === 'assembly' ? design.body.sites.map(({ part }) => part) : []));
}

/** Another customer's limits are none of this reader's business. */
function couldApply(revision: StoredRevision, assembly: string, designs: readonly StoredRevision[]): boolean {
  if (revision.kind !== 'limit') return true;
  const { scope } = revision.body;
  const customers = designs.flatMap((design) => (design.kind === 'assembly' ? [design.body.customer] : []));
  if (scope.customer !== undefined && !customers.includes(scope.customer)) return false;
  return scope.assembly === undefined || scope.assembly === assembly;
}

interface Named {
  readonly station: Set<string>;
  readonly operator: Set<string>;
  readonly profile: Set<string>;
  readonly part: Set<string>;
}

function namesIn(entries: readonly SealedEntry[]): Named {
  const named: Named = { station: new Set(), operator: new Set(), profile: new Set(), part: new Set() };
  for (const { event, data } of entries) {
    const station = event?.source.split('/')[2];
    if (station !== undefined) named.station.add(station);
    addText(named.operator, memberOf(data, 'operator'));
    addText(named.part, memberOf(data, 'part'));
    const profile = memberOf(data, 'profile');
    const name = memberOf(profile, 'name');
    const revision = memberOf(profile, 'revision');
    if (typeof name === 'string' && typeof revision === 'string') named.profile.add(`${name}@${revision}`);
  }
  return named;
}

function addText(names: Set<string>, value: unknown): void {
  if (typeof value === 'string') names.add(value);
}

function memberOf(value: unknown, member: string): unknown {
  if (typeof value !== 'object' || value === null) return undefined;
  return new Map<string, unknown>(Object.entries(value)).get(member);
}
