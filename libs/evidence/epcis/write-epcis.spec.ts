import { makeDemo } from '../../../apps/cli/demo/make-demo.js';
import { annulEvent } from '../../ledger/annulments/annul-event.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { disposeHold } from '../../ledger/holds/dispose-hold.js';
import { HoldRecord } from '../../ledger/holds/hold-record.js';
import { raiseHold } from '../../ledger/holds/raise-hold.js';
import { releaseHold } from '../../ledger/holds/release-hold.js';
import { Signer } from '../../ledger/signing/signature.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { epcisFaults } from '../../../test/support/epcis-schema.js';
import { openedAudit } from '../../../test/support/opened-audit.js';
import { writeEpcis } from './write-epcis.js';

interface Entry {
  readonly 'heatbook:ledger': string;
  readonly 'heatbook:seq': number;
  readonly 'heatbook:type': string;
}

interface Event {
  readonly type: string;
  readonly eventID: string;
  readonly action?: string;
  readonly bizStep?: string;
  readonly 'heatbook:entry': Entry;
  readonly [member: string]: unknown;
}

interface Document {
  readonly epcisBody: { readonly eventList: Event[] };
  readonly 'heatbook:export': Readonly<Record<string, unknown>>;
  readonly [member: string]: unknown;
}

const signer = (name: string, ...roles: Signer['roles']): Signer => ({
  name,
  named: 'a1',
  roles,
  meaning: 'looked at',
});
const HELD = { assembly: 'ZIB-CORE-2', serial: '0201' };
const STRUCK = { assembly: 'ZIB-PANEL-1', serial: '0103' };

describe('an export as EPCIS', () => {
  let book: BookHarness;

  beforeAll(async () => {
    book = await memoryHarness();
    const { setup, posts } = makeDemo();
    for (const { kind, name, body } of setup) await book.setupStore.revise(kind, name, body, 'demo');
    const facts = posts.flatMap(({ events }) =>
      events.flatMap(({ expected, event }) => (expected === 'accepted' ? [event] : [])),
    );
    await book.post(facts);
    await book.fold();
    await workOnHold();
    const struck = facts.find(
      ({ subject, type }) => subject === `${STRUCK.assembly}/${STRUCK.serial}` && type === 'heatbook.device.removed.v1',
    );
    if (struck === undefined) throw new Error('the demo removes no device there');
    const { source, id, subject } = struck;
    const note = 'another board was on the bench';
    await annulEvent(book.deps, { event: { source, id }, subject, note, signer: signer('q-1', 'quality') });
  });

  afterAll(async () => {
    await book.close();
  });

  async function workOnHold(): Promise<void> {
    const raised = await raiseHold(book.deps, { subject: { kind: 'unit', ...HELD }, note: 'a dent', by: 'q-1' });
    const hold = taken(raised);
    const wish = { id: hold.id, note: 'no harm done' };
    taken(await disposeHold(book.deps, { ...wish, decision: 'use-as-is', signer: signer('q-2', 'quality') }));
    taken(await releaseHold(book.deps, { ...wish, signer: signer('q-3', 'quality', 'approver') }));
  }

  function taken(answer: HoldRecord | object): HoldRecord {
    if (!('id' in answer)) throw new Error(JSON.stringify(answer));
    return answer;
  }

  async function text(source: AuditSource): Promise<string> {
    const chunks: Uint8Array[] = [];
    for await (const chunk of writeEpcis(source)) chunks.push(chunk);
    return Buffer.concat(chunks).toString('utf8');
  }

  async function exported(unit: { assembly: string; serial: string }, reader?: 'customer'): Promise<Document> {
    return JSON.parse(await text(await openedAudit(book, unit, reader))) as Document;
  }

  it('fits the published schema for each unit of the demo, and counts what it has', async () => {
    const { items } = await book.reads.units({}, { limit: 500, cursor: null });
    expect(items.length).toBeGreaterThan(40);
    for (const unit of items) {
      const source = await openedAudit(book, unit);
      const document = JSON.parse(await text(source)) as Document;
      expect(epcisFaults(document)).toEqual([]);
      const { eventList } = document.epcisBody;
      expect(document['heatbook:export']).toMatchObject({
        'heatbook:subject': `${unit.assembly}/${unit.serial}`,
        'heatbook:headHash': source.ledger.headHash,
        'heatbook:entries': [source.ledger, ...source.devices].reduce((sum, { count }) => sum + count, 0),
        'heatbook:events': eventList.length,
      });
      const declared = eventList.filter((event) => event['errorDeclaration'] !== undefined);
      expect(document['heatbook:export']['heatbook:errorDeclarations']).toBe(declared.length);
      const own = eventList.filter((event) => event['errorDeclaration'] === undefined);
      expect(new Set(own.map(({ eventID }) => eventID)).size).toBe(own.length);
      const told = new Set(own.map(({ 'heatbook:entry': at }) => `${at['heatbook:ledger']} ${at['heatbook:seq']}`));
      const leftOut = document['heatbook:export']['heatbook:leftOut'] as { 'heatbook:entries': number }[];
      const untold = leftOut.reduce((sum, row) => sum + row['heatbook:entries'], 0);
      expect(told.size + untold).toBe(document['heatbook:export']['heatbook:entries']);
    }
  });

  it('tells a replaced device: what came on the board, went off, was given up and went on', async () => {
    const { eventList } = (await exported(HELD)).epcisBody;
    const unit = 'https://heatbook.example/heatbook/units/ZIB-CORE-2/obj/0201';
    const device = (name: string): string =>
      `https://heatbook.example/heatbook/devices/obj/${encodeURIComponent(name)}`;
    const moves = eventList.filter(({ type }) => type === 'AssociationEvent');
    const old = device('ZIB-CORE-2:0201:U1');
    expect(moves.map(({ action, bizStep }) => [action, bizStep])).toEqual([
      ['OBSERVE', 'receiving'],
      ['DELETE', 'removing'],
      ['ADD', 'installing'],
    ]);
    expect(moves[0]?.['childEPCs']).toContain(old);
    expect(moves[1]).toMatchObject({ parentID: unit, childEPCs: [old], 'heatbook:site': 'U1' });
    expect(moves[2]).toMatchObject({
      parentID: unit,
      childEPCs: [device('N-0201')],
      'heatbook:places': [{ id: device('N-0201'), 'heatbook:refdes': 'U1' }],
    });
    expect(eventList).toContainEqual(
      expect.objectContaining({ type: 'ObjectEvent', action: 'DELETE', bizStep: 'destroying', epcList: [old] }),
    );
    const shipped = eventList.find(({ bizStep }) => bizStep === 'shipping');
    expect(shipped).toMatchObject({ epcList: [unit], disposition: 'in_transit', readPoint: {} });
    expect(shipped).not.toHaveProperty('bizLocation');
  });

  it('gives each heat its window, peaks in CEL and times above liquidus in SEC', async () => {
    const source = await openedAudit(book, HELD);
    const { eventList } = (JSON.parse(await text(source)) as Document).epcisBody;
    let heats = 0;
    for await (const { type, data, seq, event } of source.ledger.entries()) {
      if (type !== 'heatbook.device.removed.v1') continue;
      const { heat } = data as {
        heat: { startedAt: string; endedAt: string; thermocouples: { id: string; peakC: number }[] };
      };
      const [element] = eventList.flatMap((told) =>
        told['heatbook:entry']['heatbook:seq'] === seq
          ? ((told['sensorElementList'] as object[] | undefined) ?? [])
          : [],
      );
      expect(element).toMatchObject({ sensorMetadata: { startTime: heat.startedAt, endTime: heat.endedAt } });
      const station = String(event?.source.slice('/stations/'.length));
      const { sensorReport } = element as { sensorReport: { type: string }[] };
      heats += heat.thermocouples.length;
      expect(sensorReport.filter((report) => report.type === 'Temperature')).toEqual(
        heat.thermocouples.map(
          ({ id, peakC }) =>
            expect.objectContaining({
              deviceID: `https://heatbook.example/heatbook/stations/${station}/obj/${id}`,
              maxValue: peakC,
              uom: 'CEL',
            }) as object,
        ),
      );
    }
    expect(heats).toBeGreaterThan(0);
  });

  it('tells what became of holds, with the signatures but nobody’s printed name', async () => {
    const held = (await exported(HELD)).epcisBody.eventList.filter(({ bizStep }) => bizStep === 'holding');
    expect(held.map((event) => event['heatbook:hold'])).toEqual([
      expect.objectContaining({ 'heatbook:act': 'raised', 'heatbook:note': 'a dent' }),
      expect.objectContaining({ 'heatbook:act': 'disposed', 'heatbook:decision': 'use-as-is' }),
      expect.objectContaining({
        'heatbook:act': 'released',
        'heatbook:signature': expect.objectContaining({
          'heatbook:by': 'q-3',
          'heatbook:meaning': 'looked at',
        }) as object,
      }),
    ]);
    expect(held.map(({ disposition }) => disposition)).toEqual(['non_sellable_other', undefined, undefined]);
  });

  it('declares the events of a struck entry to be errors, under the ids that they have', async () => {
    const document = await exported(STRUCK);
    const { eventList } = document.epcisBody;
    const errors = eventList.filter((event) => event['errorDeclaration'] !== undefined);
    const entryOf = ({ 'heatbook:entry': at }: Event): string => `${at['heatbook:ledger']} ${at['heatbook:seq']}`;
    const struck = new Set(errors.map(entryOf));
    expect(struck.size).toBe(1);
    const all = eventList.filter((event) => struck.has(entryOf(event)));
    expect(all.length).toBe(2 * errors.length);
    for (const { errorDeclaration, ...error } of errors) {
      expect(errorDeclaration).toMatchObject({ 'heatbook:note': 'another board was on the bench' });
      expect(eventList).toContainEqual(error);
    }
  });

  it('is the same each time but for when it was made, and a customer’s has fewer ledgers and says so', async () => {
    const [first, second] = [await exported(HELD), await exported(HELD)];
    expect(second.epcisBody).toEqual(first.epcisBody);
    const forCustomer = await exported(HELD, 'customer');
    expect(epcisFaults(forCustomer)).toEqual([]);
    const ledgers = forCustomer.epcisBody.eventList.map((event) => event['heatbook:entry']['heatbook:ledger']);
    expect(new Set(ledgers)).toEqual(new Set(['ZIB-CORE-2/0201']));
    const { 'heatbook:audience': audience } = forCustomer['heatbook:export'];
    expect(audience).toMatchObject({
      'heatbook:for': 'customer',
      'heatbook:leftOut': expect.arrayContaining([]) as object,
    });
  });

  it('has every member that EPCIS lacks under the one prefix that its context declares', async () => {
    const document = await exported(HELD);
    expect(document['@context']).toContainEqual({ heatbook: 'https://heatbook.example/ns/1.0/' });
    const prefixes = new Set(JSON.stringify(document).match(/"[a-z]+:(?=[A-Za-z]+":)/g));
    expect(prefixes).toEqual(new Set(['"heatbook:']));
  });

  it('fails where a ledger ends early, so that what is left cannot be read as JSON', async () => {
    const source = await openedAudit(book, HELD);
    const broken = async function* () {
      for await (const entry of source.ledger.entries()) {
        if (entry.seq === 4) throw new Error('the ledger ends early');
        yield entry;
      }
    };
    await expect(text({ ...source, ledger: { ...source.ledger, entries: broken } })).rejects.toThrow('ends early');
  });

  describe('altered', () => {
    const wrong: readonly [string, (event: Record<string, unknown>, document: Record<string, unknown>) => void][] = [
      ['without an action', (event) => delete event['action']],
      ['with an action that there is not', (event) => (event['action'] = 'CHANGE')],
      ['with a step that CBV does not have', (event) => (event['bizStep'] = 'reworking')],
      ['with a disposition that CBV does not have', (event) => (event['disposition'] = 'fine')],
      ['with a step of the wrong kind', (event) => (event['bizStep'] = 7)],
      ['with a time that is none', (event) => (event['eventTime'] = 'yesterday')],
      ['without a time', (event) => delete event['eventTime']],
      ['without an offset', (event) => delete event['eventTimeZoneOffset']],
      ['with an offset of a day', (event) => (event['eventTimeZoneOffset'] = '+24:00')],
      ['with an event of another type', (event) => (event['type'] = 'ReworkEvent')],
      ['with a thing that is named by no URI', (event) => (event['epcList'] = ['SN 1'])],
      ['with a member that no context explains', (event) => (event['refdes'] = 'U1')],
      ['with a sensor that reports nothing', (event) => (event['sensorElementList'] = [{ sensorReport: [] }])],
      ['with an event id that is no URI', (event) => (event['eventID'] = '1')],
      ['with no body', (_, document) => delete document['epcisBody']],
      ['with a version that is none', (_, document) => (document['schemaVersion'] = 'two')],
      ['with a member of its own without prefix', (_, document) => (document['export'] = {})],
    ];

    it.each(wrong)('it is refused: %s', async (_, alter) => {
      const document = await exported(HELD);
      expect(epcisFaults(document)).toEqual([]);
      const event = document.epcisBody.eventList.find(({ type }) => type === 'ObjectEvent');
      alter(event ?? {}, document);
      expect(epcisFaults(document)).not.toEqual([]);
    });

    it('it is refused where a board that nothing is put on has no parent', async () => {
      const document = await exported(HELD);
      const move = document.epcisBody.eventList.find(({ action }) => action === 'ADD') as Record<string, unknown>;
      const { parentID, childEPCs } = move;
      delete move['parentID'];
      expect(epcisFaults(document)).not.toEqual([]);
      Object.assign(move, { parentID, childEPCs: [] });
      expect(epcisFaults(document)).not.toEqual([]);
      Object.assign(move, { childEPCs });
      expect(epcisFaults(document)).toEqual([]);
    });
  });
});
