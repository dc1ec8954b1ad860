import { readFile } from 'node:fs/promises';
import { nodeDigests } from '../../../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../../../libs/evidence/verify/verify-audit.js';
import { readPdf, ReadPdf } from '../../../../test/support/pdf-text.js';
import { ExampleAudit, exampleAudit, openExample, OpenExample } from './example-audit.js';

describe('the example in docs', () => {
  let example: OpenExample;
  let made: ExampleAudit;
  let pdf: ReadPdf;
  let text: string;

  beforeAll(async () => {
    example = await openExample();
    made = await exampleAudit(example);
    pdf = await readPdf(made.pdf);
    text = pdf.pages.join(' ');
  });

  it('is what the script makes: run "npm run example-audit" and look at its pages where it is not', async () => {
    const kept = await readPdf(await readFile('docs/example-audit.pdf'));
    expect(pdf).toEqual(kept);
    expect(Buffer.from(made.json).toString()).toBe(await readFile('docs/example-audit.json', 'utf8'));
  });

  it('would show one changed value', async () => {
    const { source } = example;
    const altered = { ...source, unit: { ...source.unit, customer: 'Quorndlf' } };
    const other = await readPdf((await exampleAudit({ source: altered, signer: null })).pdf);
    expect(other.pages).not.toEqual(pdf.pages);
  });

  it.each([
    // docs/demo.md, board 7, by hand: 206.6 + 1.5 and 211.5 + 1.5 are over 183 - 5 = 178; 209.5 + 2.5 too.
    'Assembly QRN-DRIVE-3 Serial 0301 Customer Quorndle',
    '2 whole-board passes before (declared) declared aboard: U2: QD-77 with 3 excursions declared: U2 reworked 3 times',
    'counting line 178 °C = Sn63Pb37 solidus 183 °C less 5 °C guard band',
    'site U2 excursions counted: one spent joint thermocouple TC1 peaked at 206.6 ±1.5 C, at or above Sn63Pb37 solidus 183 C less 5 C guard band',
    'device QD-77 excursions counted: one spent body thermocouple TC2 peaked at 211.5 ±1.5 C',
    'site U2 excursions counted: one spent board thermocouple TC1 peaked at 209.5 ±2.5 C',
    '4 of 3 allowed reworks used (limit site-reworks, revision 1)',
    'Inspection of site U2 (visual): fail lifted-pad at A1',
    'QD-77 off U2: scrapped',
    'unit-reflows r1: over it, a hold',
    // The day after, by hand: 141.7 + 1.5 on the neighbour is under 178; 3 declared and one rework of the 4 conceded.
    'device QRN-DRIVE-3:0301:U4 excursions clear: not counted joint thermocouple U4 peaked at 141.7 ±1.5 C, below',
    'site U2 reworks 4 0 0 4 0 declared 3 before (declared) + 1 declared',
    // Two declared passes; removal, fountain, braid and placement.
    'site U2 excursions 6 0 0 8 2 inferred 2 before (declared) + 3 measured + 1 inferred',
    'device N-0301 excursions 1 0 0 3 2 measured 0 before (declared) + 1 measured',
    'Conceded to this site by the customer: letter Q-26-031.',
    'Signed by Tess Quillane, account tess at 2026-03-04 06:35:00 UTC, meaning: reviewed and decided',
    'Signed by Ovid Brackenby, account ovid at 2026-03-04 06:50:00 UTC, meaning: released for further work',
    // A part rests on the corners with 22 and 24 um, so that it is at 23 um over the middle: 8 um over the 15 there.
    'heights of 5 points: 15 to 24 μm flatness from the seating plane: 0.008 mm',
    'M12 17 %, A1 12 %, A2 5 %',
    'ANNULLED by entry 23',
    'LATE U2 dressed by braid',
    'Log heatbook/example',
  ])('tells: %s', (line) => {
    expect(text).toContain(line);
  });

  it('has each entry in its route, and its head on every page', () => {
    const { ledger } = example.source;
    for (let seq = 1; seq <= ledger.count; seq++) expect(text).toMatch(new RegExp(` ${String(seq)} 2026-03-0[234] `));
    for (const [index, page] of pdf.pages.entries()) {
      expect(page).toContain(`0301 · page ${String(index + 1)} of ${String(pdf.pages.length)} · head hash`);
      expect(page).toContain(ledger.headHash.slice(0, 16));
    }
    expect(text).toContain(`Entries ${String(ledger.count)} Head hash ${ledger.headHash}`);
  });

  it('says by alternative texts what its drawings show', () => {
    const alts = pdf.roles.flatMap(({ role, alt }) => (role === 'Figure' ? [alt ?? ''] : []));
    expect(alts).toHaveLength(4);
    expect(alts[2]).toContain('Curves of trace placement-0301-u2: Joint (joint) peaks at 208.3 °C');
    expect(alts[3]).toContain(`head ${example.source.ledger.headHash}; log heatbook/example`);
  });

  it('can be checked by its JSON file', async () => {
    const report = await verifyAudit(Buffer.from(made.json).toString(), nodeDigests);
    expect(report.holds).toBe(true);
    expect(made.json.length).toBeLessThan(300_000);
  });
});
