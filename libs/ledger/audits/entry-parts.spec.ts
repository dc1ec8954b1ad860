import fc from 'fast-check';
import { seal } from '../../evidence/seal.js';
import { EntryBody, GENESIS_HASH } from '../ports/seal.js';
import { entryEnd, namingParts } from './entry-parts.js';

const BODY: EntryBody = {
  ...{ subject: 'BRD-1/0001', seq: 7, type: 'heatbook.site.dressed.v1', rules: 3 },
  ...{ time: '2030-01-07T09:00:00+01:00', recordedAt: '2030-01-07T08:00:01.250Z' },
  ...{ event: { source: '/stations/dress-1', id: 'evt-7' }, actor: { kind: 'station', station: 'dress-1' } },
  ...{ data: { refdes: 'U7', operator: 'ann' }, effects: [{ kind: 'counted' }] },
};

const name = fc.oneof(
  fc.constantFrom('actor', 'data', 'effects', 'event', 'prevHash', 'rules', 'seq', 'subject', 'time', 'type'),
  fc.string({ unit: 'grapheme' }),
);
const text = fc.oneof(fc.string({ unit: 'grapheme' }), fc.constantFrom(',"event":', ',"effects":[]', '\\', '"', '}'));
const said = fc.letrec<{ any: unknown }>((tie) => ({
  any: fc.oneof(
    { maxDepth: 4 },
    fc.constantFrom(null, false, 12),
    text,
    fc.array(tie('any'), { maxLength: 3 }),
    fc.dictionary(name, tie('any'), { maxKeys: 4 }),
  ),
})).any;
const body = fc
  .record({
    ...{ subject: text, seq: fc.nat(), type: text, time: text, rules: fc.nat() },
    event: fc.option(fc.record({ source: text, id: text })),
    ...{ actor: said, data: said, effects: fc.array(said, { maxLength: 3 }) },
  })
  .map((over): EntryBody => ({ ...BODY, ...over }));

describe('parts of an entry', () => {
  it('are what parsing all of it would give, whatever was said and however it is called', () => {
    fc.assert(
      fc.property(body, (one) => {
        const { bytes } = seal.sealEntry(one, GENESIS_HASH);
        const { subject, seq, prevHash, event, data, rules } = JSON.parse(bytes) as EntryBody & { prevHash: string };
        const end = entryEnd(bytes);
        expect(end).toMatchObject({ subject, seq, prevHash, event, rules });
        expect(namingParts({ bytes, end })).toEqual({ event, data, rules });
      }),
      { numRuns: 1_000 },
    );
  });

  it('are read without parsing where names are as they usually are', () => {
    const { bytes } = seal.sealEntry(BODY, GENESIS_HASH);
    const end = entryEnd(bytes);
    expect(end.prevHashAt).toBe(bytes.indexOf(',"prevHash":'));
    // Nothing of the effects is looked at.
    const broken = bytes.replace('"kind":"counted"', '}');
    expect(namingParts({ bytes: broken, end: entryEnd(broken) })).toEqual({
      event: BODY.event,
      data: BODY.data,
      rules: 3,
    });
  });

  it.each(['', '{}x', 'no JSON'])('throws where the bytes are no JSON: %j', (bytes) => {
    expect(() => entryEnd(bytes)).toThrow(SyntaxError);
  });
});
