import fc from 'fast-check';
import type { JsonValue, SealedEntry } from '../../ledger/ports/seal.js';
import { nodeDigests } from '../node-digests.js';
import { rehash, sampleAudit, sampleBody, sealAll, type AuditDocument1 } from '../spec-support/sample-audit.js';
import { isUnreadable, type FindingCode } from './verification-report.js';
import { verifyAudit } from './verify-audit.js';

const UNIT = 'DEMO-100/SN-1';
const MEMBERS = ['type', 'time', 'recordedAt', 'event', 'actor', 'data', 'effects', 'rules'] as const;
const FORGED = 'forged';

/** What a forgery must be found as. */
interface Expected {
  seq: number | null;
  code: FindingCode;
}

interface Forgery {
  name: string;
  /** Changes the document in place; `at` and `other` are different indexes of entries, `at` the smaller. */
  forge: (document: AuditDocument1, at: number, other: number, member: (typeof MEMBERS)[number]) => Expected;
}

const FORGERIES: Forgery[] = [
  {
    name: 'a changed value',
    forge: (document, at, _other, member) => {
      replace(document, at, (entry) => ({ ...entry, [member]: FORGED }));
      return { seq: at + 1, code: 'entry-changed' };
    },
  },
  {
    name: 'a changed value, hashed anew',
    forge: (document, at, _other, member) => {
      replace(document, at, (entry) => rehash({ ...entry, [member]: FORGED }));
      return { seq: at + 1, code: 'entry-replaced' };
    },
  },
  {
    name: 'a changed last entry, hashed anew',
    forge: (document, _at, _other, member) => {
      replace(document, document.count - 1, (entry) => rehash({ ...entry, [member]: FORGED }));
      return { seq: document.count, code: 'head-mismatch' };
    },
  },
  {
    name: 'entries missing in the middle',
    forge: (document, at, other) => {
      document.entries.splice(at, other - at);
      return { seq: at + 1, code: 'entry-missing' };
    },
  },
  {
    name: 'an entry added',
    forge: (document, at, other) => {
      const copy = structuredClone(document.entries[at]);
      if (copy) document.entries.splice(other, 0, rehash({ ...copy, data: FORGED }));
      return { seq: at + 1, code: 'entry-added' };
    },
  },
  {
    name: 'two entries swapped',
    forge: (document, at, other) => {
      const [first, second] = [document.entries[at], document.entries[other]];
      if (first && second) document.entries = document.entries.with(at, second).with(other, first);
      return { seq: at + 1, code: 'entries-swapped' };
    },
  },
  {
    name: 'a dropped tail',
    forge: (document, _at, other) => {
      document.entries.splice(other);
      return { seq: other + 1, code: 'tail-missing' };
    },
  },
  {
    name: 'an entry of another subject',
    forge: (document, at) => {
      const foreign = sealAll(document.entries.map((entry) => sampleBody('DEMO-100/SN-2', entry.seq)));
      replace(document, at, (entry) => foreign.entries[at] ?? entry);
      return { seq: at + 1, code: 'entry-foreign' };
    },
  },
  {
    name: 'a changed summary',
    forge: (document) => {
      document.unit = FORGED;
      return { seq: null, code: 'document-changed' };
    },
  },
];

function replace(document: AuditDocument1, at: number, change: (entry: SealedEntry) => SealedEntry): void {
  document.entries = document.entries.map((entry, index) => (index === at ? change(entry) : entry));
}

const data = fc.array(
  fc.jsonValue({ depthSize: 'small' }).map((value) => JSON.parse(JSON.stringify(value)) as JsonValue),
  {
    minLength: 3,
    maxLength: 25,
  },
);

/** Random data for each entry, and two different entries. */
const ledger = data.chain((values) =>
  fc.record({
    values: fc.constant(values),
    pair: fc.uniqueArray(fc.nat(values.length - 1), { minLength: 2, maxLength: 2 }),
    member: fc.constantFrom(...MEMBERS),
  }),
);

/** The value with the keys of every object in a random order. */
function shuffled(value: unknown, next: () => number): unknown {
  if (Array.isArray(value)) return value.map((item) => shuffled(item, next));
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.entries(value).map(([key, item]) => ({ key, item: shuffled(item, next), rank: next() }));
  return Object.fromEntries(members.sort((a, b) => a.rank - b.rank).map(({ key, item }) => [key, item]));
}

/** The same texts with every character beyond ASCII, and the slash, escaped. */
function escaped(json: string): string {
  return json
    .replace(/[\u0080-\uffff]/g, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`)
    .replaceAll('/', '\\/');
}

describe('verifyAudit on random ledgers', () => {
  it.each(FORGERIES)('finds and places $name, and says nothing else', async ({ forge }) => {
    await fc.assert(
      fc.asyncProperty(ledger, async ({ values, pair, member }) => {
        const document = sampleAudit(values.length, values);
        const [at = 0, other = 0] = pair.sort((a, b) => a - b);
        const { seq, code } = forge(document, at, other, member);
        const report = await verifyAudit(JSON.stringify(document), nodeDigests);
        expect(report.holds).toBe(false);
        expect(report.findings).toMatchObject([{ ledger: code === 'document-changed' ? null : UNIT, seq, code }]);
      }),
    );
  });

  it('holds in any formatting and key order', async () => {
    const layout = fc.record({ indent: fc.nat(8), escape: fc.boolean(), ranks: fc.infiniteStream(fc.nat()) });
    await fc.assert(
      fc.asyncProperty(data, layout, async (values, { indent, escape, ranks }) => {
        const document = shuffled(sampleAudit(values.length, values), () => Number(ranks.next().value));
        const json = JSON.stringify(document, null, indent);
        const report = await verifyAudit(escape ? escaped(json) : json, nodeDigests);
        expect(report.findings).toEqual([]);
      }),
    );
  });

  it('never takes a file that was cut for a whole one', async () => {
    await fc.assert(
      fc.asyncProperty(data, fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), async (values, part) => {
        const json = JSON.stringify(sampleAudit(values.length, values), null, 1);
        const report = await verifyAudit(json.slice(0, Math.floor(json.length * part)), nodeDigests);
        expect(report.findings).toMatchObject([{ code: 'file-cut' }]);
        expect(isUnreadable(report)).toBe(true);
      }),
    );
  });

  it('finds any single character that was exchanged within the ledger', async () => {
    const document = sampleAudit(6);
    const json = JSON.stringify(document);
    const [from, to] = [json.indexOf('"entries"'), json.indexOf('"devices"')];
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: from, max: to - 1 }),
        fc.constantFrom('0', '7', 'a', 'Z', ' ', '"', '}'),
        async (at, char) => {
          fc.pre(json.charAt(at) !== char);
          const report = await verifyAudit(json.slice(0, at) + char + json.slice(at + 1), nodeDigests);
          expect(report.holds).toBe(false);
        },
      ),
      { numRuns: 500 },
    );
  });
});
