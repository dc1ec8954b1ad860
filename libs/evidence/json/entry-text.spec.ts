import fc from 'fast-check';
import { entryEnd } from '../../ledger/audits/entry-parts.js';
import { canonicalJson } from '../canonical-json.js';
import { sha256Hex } from '../seal.js';
import { sampleLedger, stationEntry } from '../spec-support/sample-source.js';
import { entryText } from './entry-text.js';

/** Parsed and written anew, which is what the fast form must come to. */
function plainly({ bytes, hash }: { bytes: string; hash: string }): string {
  return canonicalJson({ ...(JSON.parse(bytes) as object), hash });
}

function textOf(bytes: string, hash: string): string {
  return entryText({ bytes, hash, end: entryEnd(bytes) });
}

/** Names that are members of entries too, so that they turn up within what is said. */
const name = fc.oneof(
  fc.constantFrom('actor', 'data', 'effects', 'event', 'hash', 'prevHash', 'rules', 'seq', 'subject', 'time', 'type'),
  fc.string({ unit: 'grapheme' }),
);
const said = fc.letrec<{ any: unknown }>((tie) => ({
  any: fc.oneof(
    { maxDepth: 4 },
    fc.constantFrom(null, true, 0, -1.5, 1e21, '0'.repeat(64), ',"prevHash":"', '"}'),
    fc.string({ unit: 'grapheme' }),
    fc.array(tie('any'), { maxLength: 3 }),
    fc.dictionary(name, tie('any'), { maxKeys: 4 }),
  ),
})).any;
const event = fc.option(fc.record({ source: fc.string({ unit: 'grapheme' }), id: fc.string({ unit: 'grapheme' }) }));
const body = fc
  .record({ actor: said, data: said, effects: fc.array(said, { maxLength: 3 }), event, rules: fc.nat() })
  .map((over) => stationEntry(1, over));

describe('entryText', () => {
  it('is what parsing and writing anew would come to, whatever was said', () => {
    fc.assert(
      fc.property(body, (one) => {
        const { stored } = sampleLedger('DEMO-100/SN-1', [one, one]);
        for (const { bytes, hash } of stored) expect(textOf(bytes, hash)).toBe(plainly({ bytes, hash }));
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ['white space in it', (bytes: string) => bytes.replace('"rules"', ' "rules"')],
    ['a figure in another form', (bytes: string) => bytes.replace('"contactSeconds":1', '"contactSeconds":1.0')],
    ['members in another order', (bytes: string) => bytes.replace(/^\{("actor":.*?\}),("data":.*?\}),/, '{$2,$1,')],
  ])('writes bytes that somebody has changed in canonical form all the same: %s', (_what, change) => {
    const [stored = { bytes: '', hash: '' }] = sampleLedger('DEMO-100/SN-1', [stationEntry(1)]).stored;
    const bytes = change(stored.bytes);
    expect(bytes).not.toBe(stored.bytes);
    expect(textOf(bytes, stored.hash)).toBe(plainly({ bytes, hash: stored.hash }));
    // Whoever sealed what has no canonical form vouches for nothing that could be read otherwise.
    expect(JSON.parse(textOf(bytes, sha256Hex(bytes)))).toEqual({
      ...(JSON.parse(bytes) as object),
      hash: sha256Hex(bytes),
    });
  });
});
