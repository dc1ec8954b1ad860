import { HOUSE_LIMITS } from '../../domain/limits/house-limits.js';
import { LimitScope } from '../../domain/limits/limit-rule.js';
import { AssemblyDesign, SetupKind, SetupRevision } from '../../domain/setup/setup-data.js';
import { Subject, subjectKey } from '../../domain/subject/subject.js';
import { GENESIS_HASH, SealedEntry } from '../ports/seal.js';
import { StoredRevision } from '../ports/setup-store.js';
import { auditConfiguration, RevisionSource } from './audit-configuration.js';
import { EntryMarks } from './entry-marks.js';

const meta = { by: 'admin', at: '2030-01-07T08:00:00.000Z' };
const design: AssemblyDesign = {
  customer: 'Nordlicht Instruments',
  description: 'Sample board',
  leadFree: true,
  assemblyReflows: 1,
  sites: [],
};

function assembly(name: string, revision: number, version: number, customer = design.customer): StoredRevision {
  return { kind: 'assembly', name, revision, version, body: { ...design, customer }, ...meta };
}

function operator(name: string, version: number): StoredRevision {
  return { kind: 'operator', name, revision: 1, version, body: { qualifications: [] }, ...meta };
}

function profile(name: string, version: number, madeFor?: string): StoredRevision {
  const own = madeFor === undefined ? {} : { assembly: madeFor };
  const body = { purpose: 'removal', alloy: 'SAC305', neighbourPeaks: [], ...own };
  return { kind: 'profile', name, revision: 1, version, body, ...meta };
}

function limit(name: string, version: number, scope: LimitScope): StoredRevision {
  const rule = HOUSE_LIMITS.get('site-reworks');
  if (rule === undefined) throw new Error('the house has no such limit');
  return { kind: 'limit', name, revision: 1, version, body: { ...rule, scope }, ...meta };
}

function source(all: readonly StoredRevision[]) {
  const revisions = (kind: SetupKind, name: string): StoredRevision[] => {
    return all.filter((one) => one.kind === kind && one.name === name);
  };
  const concessions = (subject: string): SetupRevision<'concession'>[] => {
    return all.flatMap((one) => (one.kind === 'concession' && subjectKey(one.body.subject) === subject ? [one] : []));
  };
  return {
    revisions,
    all: (kind: SetupKind) => all.filter((one) => one.kind === kind),
    latest: () => ({ concessions }),
  };
}

function entry(rules: number, data: object = {}): SealedEntry {
  return {
    subject: 'BRD-1/S1',
    seq: 1,
    type: 'heatbook.device.removed.v1',
    time: '2030-01-07T08:00:00Z',
    recordedAt: '2030-01-07T08:00:00.000Z',
    event: { source: '/stations/HG-1', id: 'e1' },
    actor: null,
    data,
    effects: [],
    rules,
    prevHash: GENESIS_HASH,
    hash: GENESIS_HASH,
  };
}

const setup = source([
  assembly('BRD-1', 1, 1),
  operator('mara', 2),
  operator('otto', 3),
  profile('REMOVE@A', 4),
  assembly('BRD-1', 2, 6),
  assembly('BRD-2', 1, 7),
]);

function namesAt(
  entries: readonly SealedEntry[],
  from: RevisionSource = setup,
  conceded: readonly string[] = [],
  reader: 'house' | 'customer' = 'house',
): string[] {
  const judged = new EntryMarks();
  for (const one of entries) judged.add(one);
  const found = auditConfiguration(from, 'BRD-1', judged, conceded, reader);
  return found.map(({ kind, name, revision }) => `${kind} ${name} ${revision}`);
}

describe('auditConfiguration', () => {
  it('gives each record as it stood when entries were judged, once', () => {
    expect(namesAt([entry(5), entry(5)])).toEqual(['assembly BRD-1 1']);
    expect(namesAt([entry(5), entry(8)])).toEqual(['assembly BRD-1 1', 'assembly BRD-1 2']);
  });

  it('gives only the operators and profiles that the entries name', () => {
    const data = { operator: 'mara', profile: { name: 'REMOVE', revision: 'A' } };
    expect(namesAt([entry(5, data)])).toEqual(['assembly BRD-1 1', 'operator mara 1', 'profile REMOVE@A 1']);
  });

  it('leaves out what came into force later', () => {
    expect(namesAt([entry(3, { profile: { name: 'REMOVE', revision: 'A' } })])).toEqual(['assembly BRD-1 1']);
  });

  it('shows a customer neither what another had, nor a profile that was made for another assembly', () => {
    const sold = source([
      assembly('BRD-1', 1, 1, 'Someone Else'),
      limit('of-before', 2, { customer: 'Someone Else' }),
      profile('OWN@A', 3, 'BRD-1'),
      profile('FOREIGN@A', 4, 'BRD-2'),
      assembly('BRD-1', 2, 5),
    ]);
    const heat = (name: string): object => ({ profile: { name, revision: 'A' } });
    const entries = [entry(4, heat('OWN')), entry(5, heat('FOREIGN'))];
    expect(namesAt(entries, sold, [], 'customer')).toEqual(['profile OWN@A 1', 'assembly BRD-1 2']);
    expect(namesAt(entries, sold)).toEqual([
      ...['assembly BRD-1 1', 'limit of-before 1', 'profile OWN@A 1', 'profile FOREIGN@A 1', 'assembly BRD-1 2'],
    ]);
  });

  it('keeps the limits of other customers and assemblies to those', () => {
    const limits = source([
      assembly('BRD-1', 1, 1),
      limit('house', 2, {}),
      limit('own', 3, { customer: 'Nordlicht Instruments', assembly: 'BRD-1' }),
      limit('other-customer', 4, { customer: 'Someone Else' }),
      limit('other-assembly', 5, { assembly: 'BRD-2' }),
    ]);
    expect(namesAt([entry(9)], limits)).toEqual(['assembly BRD-1 1', 'limit house 1', 'limit own 1']);
  });

  it('gives the revisions of a limit that were in force until a later one took effect', () => {
    const from = (name: string, revision: number, version: number, effectiveFrom?: string): StoredRevision => {
      const one = limit(name, version, {});
      if (one.kind !== 'limit') throw new Error('no limit');
      return { ...one, revision, body: { ...one.body, ...(effectiveFrom !== undefined && { effectiveFrom }) } };
    };
    const limits = source([
      assembly('BRD-1', 1, 1),
      from('house', 1, 2),
      from('house', 2, 3),
      from('house', 3, 4, '2030-02-01T00:00:00Z'),
      from('house', 4, 9),
    ]);
    expect(namesAt([entry(4)], limits)).toEqual(['assembly BRD-1 1', 'limit house 2', 'limit house 3']);
    expect(namesAt([entry(9)], limits)).toEqual(['assembly BRD-1 1', 'limit house 4']);
  });

  it('gives every revision of the concessions for the subjects, and of no others', () => {
    const concession = (name: string, version: number, subject: Subject, withdrawn = false): StoredRevision => {
      const terms = { subject, limit: 'site-reworks', allowed: 5, from: meta.at, customerReference: 'C-7' } as const;
      const revision = withdrawn ? 2 : 1;
      return { kind: 'concession', name, revision, version, body: { ...terms, withdrawn }, ...meta };
    };
    const site = { kind: 'site', assembly: 'BRD-1', serial: 'S1', refdes: 'U1' } as const;
    const conceding = source([
      concession('c1', 2, site),
      concession('c2', 3, { ...site, serial: 'S2' }),
      concession('c1', 4, site, true),
      concession('c3', 5, { kind: 'device', device: 'D-1' }),
    ]);
    const ofSite = ['concession c1 1', 'concession c1 2'];
    expect(namesAt([entry(1)], conceding, [subjectKey(site)])).toEqual(ofSite);
    expect(namesAt([entry(1)], conceding, [subjectKey(site), 'devices/D-1'])).toEqual([...ofSite, 'concession c3 1']);
  });

  it('is empty for a ledger without entries', () => {
    expect(namesAt([])).toEqual([]);
  });
});
