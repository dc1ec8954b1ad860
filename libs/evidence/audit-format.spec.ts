import { readFileSync } from 'node:fs';
import { canonicalJson } from './canonical-json.js';
import { asRecord, readAudit } from './read-audit.js';
import { seal } from './seal.js';
import { verifyAudit } from './verify-audit.js';

const page = readFileSync(new URL('../../docs/audit-format.md', import.meta.url), 'utf8');
const example = page.slice(page.indexOf('## A worked example'));
const [bytes = '', hash = '', file = ''] = [...example.matchAll(/```\w+\n(.*?)\n```/gs)].map((block) => block[1] ?? '');

/** Members named in the first column of the table under a heading of the page. */
function membersUnder(heading: string): string[] {
  const section = page.slice(page.indexOf(`## ${heading}\n`)).split('\n\n')[1] ?? '';
  return [...section.matchAll(/^\| `(\w+)`/gm)].map((row) => row[1] ?? '');
}

describe('the page on the audit format', () => {
  it('shows a file that holds', () => {
    expect(verifyAudit(file)).toMatchObject({ holds: true, subject: 'DEMO-100/SN-1', entries: 2 });
  });

  it('shows the bytes and the hash of its first entry', () => {
    const { hash: stated, ...body } = asRecord(readAudit(file).unit.entries[0]) ?? {};
    expect(canonicalJson(body)).toBe(bytes);
    expect(seal.sha256Hex(bytes)).toBe(hash);
    expect(stated).toBe(hash);
    expect(page).toContain(`${new TextEncoder().encode(bytes).length} bytes in UTF-8`);
  });

  it('names every member of the document and of an entry', () => {
    const { document, unit } = readAudit(file);
    expect(membersUnder('The document')).toEqual(Object.keys(document));
    expect(membersUnder('An entry')).toEqual(Object.keys(asRecord(unit.entries[0]) ?? {}));
  });
});
