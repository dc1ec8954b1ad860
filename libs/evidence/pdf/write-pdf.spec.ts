import { setImmediate } from 'node:timers/promises';
import { readPdf, ReadPdf } from '../../../test/support/pdf-text.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { BrokenLedger } from '../../ledger/audits/broken-ledger.js';
import { EntryBody } from '../../ledger/ports/seal.js';
import { StoredRevision } from '../../ledger/ports/setup-store.js';
import { sampleLedger, sampleSource, stationEntry } from '../spec-support/sample-source.js';
import { PDF_HEADINGS } from '../checklist/checklist-row.js';
import { writePdf } from './write-pdf.js';

type Body = Omit<EntryBody, 'subject' | 'seq'>;

async function bytesOf(source: AuditSource): Promise<Buffer> {
  const pieces: Uint8Array[] = [];
  for await (const piece of writePdf(source)) pieces.push(piece);
  return Buffer.concat(pieces);
}

async function written(bodies: readonly Body[], over: Parameters<typeof sampleSource>[2] = {}): Promise<ReadPdf> {
  const { ledger } = sampleLedger('DEMO-100/SN-1', bodies);
  return readPdf(await bytesOf(sampleSource(ledger, [], over)));
}

function cleaned(number: number, note: string, over: Partial<Body> = {}): Body {
  const data = { refdes: 'U7', agent: 'solvent wipe', note };
  return stationEntry(number, { type: 'heatbook.site.cleaned.v1', data, ...over });
}

function textOf({ pages }: ReadPdf): string {
  return pages.join(' ');
}

describe('the PDF of an audit', () => {
  it('has its sections in order, as headings and bookmarks, a title and a language', async () => {
    const read = await written([cleaned(1, 'first')]);
    expect(read.bookmarks).toEqual(PDF_HEADINGS);
    const headings = read.roles.filter(({ role }) => role === 'H1' || role === 'H2');
    expect(headings.map(({ role }) => role)).toEqual(['H1', ...PDF_HEADINGS.map(() => 'H2')]);
    const [text, places] = [textOf(read), PDF_HEADINGS.map((title) => textOf(read).indexOf(title))];
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(text).not.toContain('undefined');
    expect(read.info).toMatchObject({ Title: 'Audit of unit DEMO-100/SN-1', PDFFormatVersion: '1.7', Language: 'en' });
    const roles = new Set(read.roles.map(({ role }) => role));
    for (const role of ['Document', 'Sect', 'P', 'Table', 'TR', 'TH', 'TD', 'Figure']) expect(roles).toContain(role);
  });

  it('names unit, page, total, head and export on each of many pages, and repeats the titles of a table', async () => {
    const bodies = Array.from({ length: 130 }, (_, index) => cleaned(index + 1, `note ${String(index + 1)}`));
    const read = await written(bodies);
    const { headHash } = sampleLedger('DEMO-100/SN-1', bodies).ledger;
    const total = read.pages.length;
    expect(total).toBeGreaterThan(8);
    for (const [index, page] of read.pages.entries()) {
      expect(page).toContain('assembly DEMO-100 · serial SN-1');
      const place = `SN-1 · page ${String(index + 1)} of ${String(total)}`;
      expect(page).toContain(`${place} · head hash ${headHash.slice(0, 16)} · exported 2030-01-08 10:00:00 UTC`);
      if (page.includes('solvent wipe')) expect(page).toContain('Happened, written Step and what it did By');
    }
    for (let note = 1; note <= 130; note++) expect(textOf(read)).toContain(`note: note ${String(note)} `);
  });

  it('lets pages go before it knows how many there will be', async () => {
    const bodies = Array.from({ length: 200 }, (_, index) => cleaned(index + 1, 'n'));
    const { ledger, pages } = sampleLedger('DEMO-100/SN-1', bodies);
    const reading = writePdf(sampleSource(ledger))[Symbol.asyncIterator]();
    await reading.next();
    const second = await reading.next();
    expect(second.done).toBe(false);
    // The ledger has been read once for its marks, and not yet to its end for the rows.
    expect(pages.length).toBeLessThanOrEqual(2);
    await reading.return();
  });

  it('lets others of the process have their turns while it writes, though nothing has to be waited for', async () => {
    let [turns, over] = [0, false];
    const others = (async () => {
      for (; !over; turns += 1) await setImmediate();
    })();
    const { ledger } = sampleLedger(
      'DEMO-100/SN-1',
      Array.from({ length: 300 }, (_, index) => cleaned(index + 1, 'again')),
    );
    await bytesOf(sampleSource(ledger));
    over = true;
    await others;
    expect(turns).toBeGreaterThan(5);
  });

  it('keeps any writing that its typefaces have, and says of the rest how it is drawn', async () => {
    const notes = ['naïve Ελλάδα Москва', 'שלום', '温度 ok', 'bell \u0007 and \u202E turned', 'one\ntwo'];
    const text = textOf(await written(notes.map((note, index) => cleaned(index + 1, note))));
    expect(text).toContain('note: naïve Ελλάδα Москва');
    expect(text).toContain('שלום');
    expect(text).toContain('note: \uFFFD\uFFFD ok');
    expect(text).toContain('note: bell [U+0007] and [U+202E] turned');
    expect(text).toContain('note: one↵ two');
    // One more is in the complaint of the sample.
    expect(text).toMatch(
      /3 characters that the typefaces lack are drawn as \uFFFD; 2 characters that cannot be seen are spelled out .*; words written from right to left/,
    );
  });

  it('breaks words that no column can hold, losing nothing of them', async () => {
    const word = Array.from({ length: 900 }, (_, index) => String.fromCharCode(97 + (index % 26))).join('');
    const text = textOf(await written([cleaned(1, word)]));
    expect(text.replaceAll(' ', '')).toContain(word);
  });

  it('breaks a row that is higher than a page', async () => {
    const note = Array.from({ length: 1500 }, (_, index) => `word${String(index)}`).join(' ');
    const read = await written([cleaned(1, note), cleaned(2, 'after it')]);
    expect(textOf(read)).toContain('note: after it');
    for (const index of [0, 700, 1499]) expect(textOf(read)).toContain(`word${String(index)}`);
  });

  it('marks what was told late, annulled and judged anew', async () => {
    const early = cleaned(2, 'before', { time: '2030-01-07T08:00:00+01:00' });
    const struck: Body = {
      ...cleaned(1, 'x'),
      ...{ type: 'heatbook.entry.annulled.v1', actor: { kind: 'person', name: 'ann' } },
      data: { signed: { note: 'wrong board' } },
    };
    const change = { event: { source: '/stations/dress-1', id: 'evt-2' }, effects: [] };
    const anew: Body = {
      ...{ ...cleaned(9, 'x'), type: 'heatbook.entry.rejudged.v1', event: null, actor: { kind: 'book' } },
      data: { because: [{ source: '/stations/dress-1', id: 'evt-2' }], changes: [change] },
    };
    const text = textOf(await written([cleaned(1, 'first'), early, struck, anew]));
    expect(text).toContain('1 told late, 1 annulled, 1 judged anew');
    expect(text).toMatch(/ANNULLED by entry 3 U7 cleaned/);
    expect(text).toMatch(/LATE JUDGED ANEW by entry 4 U7 cleaned/);
    expect(text).toContain('note: wrong board');
    expect(text).toContain('because of event evt-2, told late');
  });

  it('tells the calibration of a station as it was when the entry was judged', async () => {
    const station = (version: number, calibrationDueAt: string): StoredRevision => ({
      ...({
        kind: 'station',
        name: 'dress-1',
        revision: version,
        version,
        by: 'ann',
        at: '2029-01-01T00:00:00Z',
      } as const),
      body: { kind: 'dressing bench', calibrationDueAt },
    });
    const configuration = [station(1, '2030-01-01T00:00:00Z'), station(5, '2031-01-01T00:00:00Z')];
    const bodies = [cleaned(1, 'a', { rules: 3 }), cleaned(2, 'b', { rules: 6 })];
    const text = textOf(await written(bodies, { configuration }));
    expect(text).toMatch(/note: a station dress-1.*calibration OVERDUE since 2030-01-01 00:00:00 UTC/);
    expect(text).toMatch(/note: b station dress-1.*calibration valid, due 2031-01-01/);
    expect(text).toMatch(/dress-1 r1 dressing bench not told 2030-01-01 00:00:00 UTC 1; 1/);
    expect(text).toMatch(/dress-1 r5 dressing bench not told 2031-01-01 00:00:00 UTC 1; none/);
  });

  it('prints the names that signatures commit to, old ones as they hold them, and a pseudonym after an erasure', async () => {
    const signature = (who: object): object => ({
      by: 'ann',
      at: '2030-01-07T08:00:00Z',
      meaning: 'm',
      contentHash: 'ab',
      ...who,
    });
    const released = (number: number, who: object): Body => ({
      ...{
        ...cleaned(number, 'x'),
        type: 'heatbook.hold.released.v1',
        event: null,
        actor: { kind: 'person', name: 'ann' },
      },
      data: { note: 'n', signature: signature(who) },
    });
    const people = [
      { commitment: 'c1'.repeat(32), name: 'ann', printedName: 'Ann Öst', salt: '00' },
      { commitment: 'c2'.repeat(32), name: 'bob', printedName: null, salt: null },
    ];
    const bodies = [
      released(1, { named: 'c1'.repeat(32) }),
      released(2, { named: 'c2'.repeat(32) }),
      released(3, { printedName: 'Old Hand' }),
    ];
    const text = textOf(await written(bodies, { people }));
    expect(text).toContain('Signed by Ann Öst, account ann');
    expect(text).toContain('Signed by erased-c2c2c2c2 (name erased), account ann');
    expect(text).toContain('Signed by Old Hand, account ann');
  });

  it('tells a customer what is left out, and nothing of devices’ own ledgers', async () => {
    const audience = { for: 'customer', leftOut: ['internal notes', 'other customers'] } as const;
    const text = textOf(await written([cleaned(1, 'a')], { audience }));
    expect(text).toContain('Exported for the customer Left out internal notes other customers');
    expect(text).not.toContain('What the devices’ own ledgers tell besides');
    expect(textOf(await written([cleaned(1, 'a')]))).toContain('Left out nothing');
  });

  it('says that no checkpoint vouches for anything, and what it cannot show by itself', async () => {
    const text = textOf(await written([cleaned(1, 'a')]));
    expect(text).toContain('No entry of this export is under a signed checkpoint');
    expect(text).toContain('A PDF carries no proof');
    expect(text).toContain('heatbook verify FILE');
  });

  it('says “none” where nothing is open', async () => {
    const log = { origin: 'l', checkpoint: '', keys: [], consistency: [], censuses: [], censusesLeftOut: 0 };
    const { ledger } = sampleLedger('DEMO-100/SN-1', [cleaned(1, 'a')]);
    const place = { subject: ledger.subject, seq: 1, hash: ledger.headHash, index: 0, path: [] };
    const source = sampleSource(ledger, [], { log: { ...log, inclusion: [place] } });
    const text = textOf(await readPdf(await bytesOf(source)));
    expect(text).toMatch(/Open points none (Verification|Audit of unit)/);
  });

  it('draws no more curves than it says, and names the rest', async () => {
    const heat = {
      ...{ startedAt: '2030-01-07T09:00:00+01:00', endedAt: '2030-01-07T09:05:00+01:00', trace: 'run-1' },
      thermocouples: [{ id: 'Joint', position: 'joint', peakC: 230 }],
    };
    const data = { refdes: 'U7', purpose: 'touch-up', heat };
    const bodies = Array.from({ length: 43 }, (_, index) => {
      return stationEntry(index + 1, { type: 'heatbook.site.heated.v1', data });
    });
    const { ledger } = sampleLedger('DEMO-100/SN-1', bodies);
    let read = 0;
    const csv = 'time (s),Joint (°C)\n0,23\n60,150\n120,230\n180,90\n';
    const stored = {
      name: 'run-1',
      contentHash: 'aa',
      csv,
      encoding: 'utf8',
      voltage: null,
      by: 'x',
      at: 'y',
    } as const;
    const source = {
      ...sampleSource(ledger),
      trace: () => {
        read += 1;
        return Promise.resolve(stored);
      },
    };
    const pdf = await readPdf(await bytesOf(source));
    expect(read).toBe(40);
    expect(pdf.roles.filter(({ alt }) => alt?.startsWith('Curves of trace run-1') === true)).toHaveLength(40);
    expect(textOf(pdf)).toContain('Left to the JSON file and its traces: 3 curves beyond the first 40');
  });

  it('is the same bytes for the same source', async () => {
    const { ledger } = sampleLedger('DEMO-100/SN-1', [cleaned(1, 'a')]);
    const [first, second] = [await bytesOf(sampleSource(ledger)), await bytesOf(sampleSource(ledger))];
    expect(first.equals(second)).toBe(true);
  });

  it('does not end as if it were whole where the book has less than it says', async () => {
    const { ledger } = sampleLedger('DEMO-100/SN-1', [cleaned(1, 'a')]);
    const broken = {
      ...ledger,
      entries: async function* () {
        yield* ledger.entries();
        throw new BrokenLedger('DEMO-100/SN-1', 'it ends with entry 1 of 2');
      },
    };
    await expect(bytesOf(sampleSource(broken))).rejects.toThrow(BrokenLedger);
  });
});
