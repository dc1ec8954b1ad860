import { buffer } from 'node:stream/consumers';
import { Readable } from 'node:stream';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { canonicalJson } from '../canonical-json.js';
import { sampleLedger, sampleSource, stationEntry } from '../spec-support/sample-source.js';
import { bareCell } from './guard-cell.js';
import { CSV_COLUMNS, writeAuditCsv } from './write-audit-csv.js';

const SUBJECT = 'DEMO-100/SN-1';

type Row = Record<string, string>;

async function rowsOf(source: AuditSource): Promise<Row[]> {
  const bytes = await buffer(Readable.from(writeAuditCsv(source)));
  return parse(bytes, { columns: true, record_delimiter: '\r\n', relax_column_count: false });
}

/** Rows as they were before they were guarded. */
function bared(rows: readonly Row[]): Row[] {
  return rows.map((row) => Object.fromEntries(Object.entries(row).map(([name, cell]) => [name, bareCell(cell)])));
}

describe('writeAuditCsv', () => {
  it('has a row for each entry, the unit’s first, each with how many there are to be', async () => {
    const own = sampleLedger(SUBJECT, [stationEntry(1), stationEntry(2)]);
    const device = sampleLedger('devices/D-1', [stationEntry(3)]);
    const rows = await rowsOf(sampleSource(own.ledger, [['D-1', device.ledger]]));
    expect(Object.keys(rows[0] ?? {})).toEqual(CSV_COLUMNS);
    expect(rows.map(({ subject, ledger, ledgers, seq, of }) => [subject, ledger, ledgers, seq, of])).toEqual([
      [SUBJECT, '1', '2', '1', '2'],
      [SUBJECT, '1', '2', '2', '2'],
      ['devices/D-1', '2', '2', '1', '1'],
    ]);
    expect(rows.map(({ hash }) => hash)).toEqual([...own.entries, ...device.entries].map(({ hash }) => hash));
  });

  it('lays out what a heat said and what came of it', async () => {
    const site = { kind: 'site', assembly: 'DEMO-100', serial: 'SN-1', refdes: 'U7' };
    const removal = stationEntry(1, {
      type: 'heatbook.device.removed.v1',
      data: {
        ...{ refdes: 'U7', device: 'D-1', fate: 'keep', note: 'slow, "soaked"\r\ntwice', operator: 'op-7' },
        profile: { name: 'REMOVE', revision: 'A' },
        heat: {
          ...{ startedAt: '2030-01-07T07:50:00Z', endedAt: '2030-01-07T07:56:00Z' },
          thermocouples: [{ peakC: 231.5 }, { peakC: 236 }, { peakC: -4 }],
        },
      },
      effects: [
        { kind: 'counted', subject: site, limit: 'site-excursions', count: { basis: 'measured' } },
        {
          kind: 'counted',
          subject: { kind: 'device', device: 'D-1' },
          limit: 'device-excursions',
          count: { basis: 'inferred' },
        },
        { kind: 'warned', code: 'moisture-unknown', subject: { kind: 'unit', assembly: 'DEMO-100', serial: 'SN-1' } },
        { kind: 'hold-raised', reason: 'limit-exceeded', subject: site, hold: 'h1' },
      ],
    });
    const inspection = stationEntry(2, {
      type: 'heatbook.inspection.recorded.v1',
      data: {
        ...{ target: { kind: 'site', refdes: 'U7' }, technique: 'visual', result: 'fail' },
        defects: [{ code: 'lifted-pad', pads: ['A1', 'B2'] }, { code: 'bridge' }],
      },
    });
    const release = stationEntry(3, { event: null, actor: { kind: 'person', name: 'ada' }, data: { note: 'ok' } });
    const [heat, seen, released] = await rowsOf(
      sampleSource(sampleLedger(SUBJECT, [removal, inspection, release]).ledger),
    );
    expect(heat).toMatchObject({
      ...{
        source: '/stations/dress-1',
        eventId: 'evt-1',
        actorKind: 'station',
        actorName: 'dress-1',
        operator: 'op-7',
      },
      ...{ refdes: 'U7', device: 'D-1', profile: 'REMOVE@A', peakC: '236', note: 'slow, "soaked"\r\ntwice' },
      ...{ heatStartedAt: '2030-01-07T07:50:00Z', heatEndedAt: '2030-01-07T07:56:00Z', result: '' },
      counted: 'site-excursions U7 +1 (measured); device-excursions D-1 +1 (inferred)',
      ...{ warnings: 'moisture-unknown', holdsRaised: 'limit-exceeded U7' },
      data: canonicalJson(removal.data),
    });
    expect(seen).toMatchObject({
      refdes: 'U7',
      method: 'visual',
      result: 'fail',
      defects: 'lifted-pad (A1 B2); bridge',
    });
    expect(released).toMatchObject({ source: '', eventId: '', actorKind: 'person', actorName: 'ada', note: 'ok' });
  });

  it('gives a figure below zero as a figure', async () => {
    const cold = stationEntry(1, { data: { heat: { thermocouples: [{ peakC: -12.5 }] } } });
    const [row] = await rowsOf(sampleSource(sampleLedger(SUBJECT, [cold]).ledger));
    expect(row?.peakC).toBe('-12.5');
  });

  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', '＝1', '＋1', '－1', '＠1', "'quoted", "''"])(
    'lets no spreadsheet take %j for a formula, and loses nothing of it',
    async (note) => {
      const rows = await rowsOf(sampleSource(sampleLedger(SUBJECT, [stationEntry(1, { data: { note } })]).ledger));
      expect(rows[0]?.note).toBe(`'${note}`);
      expect(bared(rows)[0]?.note).toBe(note);
    },
  );

  it('gives any text back to whoever takes one apostrophe away', async () => {
    const texts = fc.array(fc.string({ unit: 'grapheme', maxLength: 20 }), { maxLength: 5 });
    const prefixed = fc
      .tuple(fc.constantFrom('', '=', "'", '-', '\r\n', '"', ','), fc.string())
      .map((two) => two.join(''));
    await fc.assert(
      fc.asyncProperty(texts, prefixed, async (notes, odd) => {
        const all = [...notes, odd];
        const { ledger } = sampleLedger(
          SUBJECT,
          all.map((note, index) => stationEntry(index, { data: { note } })),
        );
        const rows = bared(await rowsOf(sampleSource(ledger)));
        expect(rows.map(({ note }) => note)).toEqual(all);
        expect(rows.map(({ data }) => data)).toEqual(all.map((note) => canonicalJson({ note })));
      }),
      { numRuns: 100 },
    );
  });
});
