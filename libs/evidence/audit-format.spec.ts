import { readFileSync } from 'node:fs';
import { leafHash, nodeHash } from '../ledger/log/merkle/hashing.js';
import { fromHex, toHex } from '../ledger/log/notes/hex.js';
import { canonicalJson } from './canonical-json.js';
import { parseJws } from './log/jws.js';
import { nodeDigests } from './node-digests.js';
import { seal } from './seal.js';
import { exampleAudit, exampleHouse } from './spec-support/example-audit.js';
import { FINDING_CODES } from './verify/verification-report.js';
import { verifyAudit } from './verify/verify-audit.js';

const { sha256 } = nodeDigests;
const page = readFileSync(new URL('../../docs/audit-format.md', import.meta.url), 'utf8');
const example = page.slice(page.indexOf('## A worked example'));
const [bytes = '', hash = '', tree = '', census = '', person = '', statement = '', file = ''] = [
  ...example.matchAll(/```\w+\n(.*?)\n```/gs),
].map((block) => block[1] ?? '');

/** Names in the first column of the table under a heading of the page. */
function namesUnder(heading: string): string[] {
  const from = page.indexOf(`## ${heading}\n`);
  const section = page.slice(from, page.indexOf('\n#', from + 4));
  return [...section.matchAll(/^\| (`[^|]*`)/gm)].flatMap((row) =>
    [...(row[1] ?? '').matchAll(/`([\w-]+)`/g)].map((name) => name[1] ?? ''),
  );
}

/** Texts, each followed by its hash on the next line. */
function pairs(block: string): [text: string, hash: string][] {
  const lines = block.split('\n');
  return lines.flatMap((line, at) => (at % 2 === 0 ? [[line, lines[at + 1] ?? ''] as [string, string]] : []));
}

describe('the page on the audit format', () => {
  it('shows the file that its house hands out, and that it holds under the key of the house', async () => {
    const document = await exampleAudit();
    expect(JSON.parse(file)).toEqual(document);
    const { vkey: key } = (await exampleHouse()).signer;
    expect(await verifyAudit(file, nodeDigests, { key })).toMatchObject({ holds: true, entries: 2, notes: [] });
  });

  it('shows the bytes and the hash of its first entry', async () => {
    const { hash: stated, ...body } = (await exampleAudit()).entries[0] ?? { hash: '' };
    expect(canonicalJson(body)).toBe(bytes);
    expect(seal.sha256Hex(bytes)).toBe(hash);
    expect(stated).toBe(hash);
    expect(page).toContain(`${new TextEncoder().encode(bytes).length} bytes in UTF-8`);
  });

  it('shows the hashes of the log up to its root', async () => {
    const { leaves } = await exampleHouse();
    const hashes = leaves.map((leaf) => leafHash(sha256, fromHex(leaf.hash) ?? new Uint8Array()));
    const [a, b, c, d] = hashes as [Uint8Array, Uint8Array, Uint8Array, Uint8Array];
    const [left, right] = [nodeHash(sha256, a, b), nodeHash(sha256, c, d)];
    const shown = tree.split('\n').map((line) => line.slice(-64));
    expect(shown).toEqual([...hashes, left, right, nodeHash(sha256, left, right)].map(toHex));
    expect(file).toContain(Buffer.from(shown.at(-1) ?? '', 'hex').toString('base64'));
  });

  it('shows the leaves of the census, and what a commitment is over', async () => {
    const [counted] = (await exampleAudit()).log?.censuses ?? [];
    const shown = pairs(census);
    expect(shown.map(([text]) => text)).toEqual([canonicalJson(counted?.ledger), canonicalJson(counted?.group)]);
    for (const [text, leaf] of shown) expect(toHex(leafHash(sha256, new TextEncoder().encode(text)))).toBe(leaf);
    for (const [text, commitment] of pairs(person)) expect(seal.sha256Hex(text)).toBe(commitment);
  });

  it('shows header and payload of the statement', async () => {
    const jws = parseJws((await exampleAudit()).statement ?? '');
    expect(statement).toBe(`${canonicalJson(jws?.header)}\n${new TextDecoder().decode(jws?.payload)}`);
  });

  it('names every member of the document, of an entry, of the log and of a census', async () => {
    const document = await exampleAudit();
    const [counted] = document.log?.censuses ?? [];
    expect(namesUnder('The document')).toEqual(Object.keys(document));
    expect(namesUnder('An entry')).toEqual(Object.keys(document.entries[0] ?? {}));
    expect(namesUnder('The log')).toEqual(Object.keys(document.log ?? {}));
    expect(namesUnder('The census').toSorted()).toEqual(
      [...Object.keys(counted ?? {}), ...Object.keys(Object(counted?.entry.data) as object)].toSorted(),
    );
  });

  it('says of every code what it means, and of no other', () => {
    expect(namesUnder('Codes of findings')).toEqual([...FINDING_CODES]);
  });
});
