import { Rules, SetupKind } from '../../domain/setup/setup-data.js';
import { StoredRevision } from '../ports/setup-store.js';
import { AuditAudience } from './audit-source.js';
import { EntryMarks } from './entry-marks.js';

/** The setup's revisions, oldest first per record. */
export interface RevisionSource {
  all(kind: SetupKind): readonly StoredRevision[];
  revisions(kind: SetupKind, name: string): readonly StoredRevision[];
  latest(): Pick<Rules, 'concessions'>;
}

/**
 * The setup revisions that entries on an assembly were judged by: of the assembly, its parts, the stations, operators
 * and profiles that the entries name, the rates of copper wear, and the limits that could apply, each as it stood at the
 * versions that the entries name; and every revision of the concessions for the subjects. In the order in which they came
 * into force.
 * @param conceded subjects by `subjectKey`
 * @param reader a customer gets nothing that names another: not the assembly as it was another's, nor a profile that was
 * made for another assembly
 */
export function auditConfiguration(
  setup: RevisionSource,
  assembly: string,
  judged: EntryMarks,
  conceded: readonly string[],
  reader: AuditAudience['for'],
): readonly StoredRevision[] {
  const versions = [...judged.versions];
  const inForce = (kind: SetupKind, name: string): StoredRevision[] => {
    const revisions = setup.revisions(kind, name);
    return versions.flatMap((version) => revisions.findLast((revision) => revision.version <= version) ?? []);
  };
  const designs = inForce('assembly', assembly);
  const parts = new Set([...partsOf(designs), ...judged.parts]);
  const found = [
    ...designs,
    ...[...parts].flatMap((name) => inForce('part', name)),
    ...[...judged.stations].flatMap((name) => inForce('station', name)),
    ...[...judged.operators].flatMap((name) => inForce('operator', name)),
    ...[...judged.profiles].flatMap((name) => inForce('profile', name)),
    ...setup.all('copper-rate').flatMap(({ name }) => inForce('copper-rate', name)),
    ...setup.all('limit').flatMap(({ name }) => limitsInForce(setup, name, versions)),
    ...concessionsFor(setup, conceded),
  ];
  const now = customersOf(setup.revisions('assembly', assembly).slice(-1));
  const customers = reader === 'customer' ? now : customersOf(designs);
  const shown = found.filter((one) => {
    return couldApply(one, assembly, customers) && (reader === 'house' || isAbout(one, assembly, customers));
  });
  const byVersion = new Map(shown.map((one) => [one.version, one]));
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

/** The withdrawal of a concession is a revision of it like its grant. */
function concessionsFor(setup: RevisionSource, subjects: readonly string[]): StoredRevision[] {
  const rules = setup.latest();
  const names = subjects.flatMap((subject) => rules.concessions(subject).map(({ name }) => name));
  return names.flatMap((name) => setup.revisions('concession', name));
}

function customersOf(designs: readonly StoredRevision[]): string[] {
  return designs.flatMap((design) => (design.kind === 'assembly' ? [design.body.customer] : []));
}

/** Whether a customer may know of it: it names no other customer's assembly, and this one only while it was theirs. */
function isAbout(revision: StoredRevision, assembly: string, customers: readonly string[]): boolean {
  if (revision.kind === 'assembly') return customers.includes(revision.body.customer);
  return revision.kind !== 'profile' || [undefined, assembly].includes(revision.body.assembly);
}

function partsOf(designs: readonly StoredRevision[]): string[] {
  return designs.flatMap((design) => (design.kind === 'assembly' ? design.body.sites.map(({ part }) => part) : []));
}

/** Another customer's limits are none of this reader's business. */
function couldApply(revision: StoredRevision, assembly: string, customers: readonly string[]): boolean {
  if (revision.kind !== 'limit') return true;
  const { scope } = revision.body;
  if (scope.customer !== undefined && !customers.includes(scope.customer)) return false;
  return scope.assembly === undefined || scope.assembly === assembly;
}
