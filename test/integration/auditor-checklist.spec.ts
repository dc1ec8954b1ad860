import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { loadDemo } from '../../apps/cli/demo/load-demo.js';
import { AUDITOR_CHECKLIST } from '../../libs/evidence/checklist/auditor-checklist.js';
import { PDF_HEADINGS } from '../../libs/evidence/checklist/checklist-row.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';

/** The unit of the demo to which most happened. */
const UNIT = { assembly: 'QRN-DRIVE-3', serial: '0301' };
const AUDIT = `/v1/units/${UNIT.assembly}/${UNIT.serial}/audit`;
/** No heat of the former was logged; this one has a logged one. */
const LOGGED = '/v1/units/ZIB-PANEL-1/0120/audit';
const OF_LOGS = ['/entries/*/data/heat/trace', '/traces/*/contentHash'];

/** Where the pointers of the checklist lead in what the product gives out. */
describe('the auditors’ checklist on a unit of the demo', () => {
  let shop: RunningHouse;
  let quality: SignedInPerson;
  let approver: SignedInPerson;
  let audit: unknown;
  let logged: unknown;

  beforeAll(async () => {
    shop = await runningHouse();
    await loadDemo(shop.house);
    quality = await shop.person('quinn', ['quality']);
    approver = await shop.person('abel', ['approver']);
    await workAtTheDesk();
    audit = (await shop.call('GET', AUDIT)).body;
    logged = (await shop.call('GET', LOGGED)).body;
  }, 60_000);

  afterAll(() => shop.close());

  /** One hold is decided about and released by two people, and one exception is signed. */
  async function workAtTheDesk(): Promise<void> {
    const { body } = await shop.call('GET', `/v1/holds?assembly=${UNIT.assembly}&serial=${UNIT.serial}&state=open`);
    const [hold] = body['items'] as { id: string }[];
    const path = `/v1/holds/${String(hold?.id)}`;
    const decision = { decision: 'use-as-is', note: 'Looked at.', signature: quality.signature() };
    expect(await quality.call('POST', `${path}/dispositions`, decision)).toMatchObject({ status: 201 });
    const released = { note: 'Agreed.', signature: approver.signature() };
    expect(await approver.call('POST', `${path}/release`, released)).toMatchObject({ status: 200 });
    const conceded = {
      subject: { kind: 'site', ...UNIT, refdes: 'U1' },
      ...{ limit: 'site-reworks', allowed: 9, customerReference: 'QRN-81', note: 'Once more.' },
      signature: approver.signature(),
    };
    expect(await approver.call('POST', '/v1/concessions', conceded)).toMatchObject({ status: 201 });
  }

  it('has each thing that it points to in the audit file', () => {
    const missing = AUDITOR_CHECKLIST.flatMap(({ clause, shownIn }) =>
      shownIn.json
        .filter((pointer) => found(OF_LOGS.includes(pointer) ? logged : audit, pointer).length === 0)
        .map((pointer) => `${clause} ${pointer}`),
    );
    expect(missing).toEqual([]);
    expect(found(audit, '/entries/*/data/nothing')).toEqual([]);
  });

  it('names sections that the PDF has, in the order that it has them', async () => {
    const response = await fetch(`${shop.url}${AUDIT}?format=pdf`, {
      headers: { authorization: `Bearer ${shop.adminKey}` },
    });
    expect(response.status).toBe(200);
    const lines = await linesOf(new Uint8Array(await response.arrayBuffer()));
    expect(lines.filter((line) => PDF_HEADINGS.some((heading) => heading === line))).toEqual(PDF_HEADINGS);
  }, 60_000);
});

/** What a JSON Pointer (RFC 6901) leads to, `*` standing for every member of a list. */
function found(value: unknown, pointer: string): readonly unknown[] {
  let reached: readonly unknown[] = [value];
  for (const step of pointer.split('/').slice(1)) {
    reached = reached.flatMap((at) => {
      if (at === null || typeof at !== 'object') return [];
      if (step === '*') return Array.isArray(at) ? (at as unknown[]) : [];
      return step in at ? [(at as Record<string, unknown>)[step]] : [];
    });
  }
  return reached;
}

async function linesOf(pdf: Uint8Array): Promise<readonly string[]> {
  const document = await getDocument({ data: pdf, verbosity: 0 }).promise;
  const lines: string[] = [];
  for (let page = 1; page <= document.numPages; page += 1) {
    const { items } = await (await document.getPage(page)).getTextContent();
    lines.push(...items.flatMap((item) => ('str' in item ? [item.str.trim()] : [])));
  }
  await document.destroy();
  return lines;
}
