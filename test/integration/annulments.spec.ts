import fc from 'fast-check';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { annulEvent } from '../../libs/ledger/annulments/annul-event.js';
import { BOOK_ENTRY_TYPES } from '../../libs/ledger/fold/book-effect.js';
import { Signer } from '../../libs/ledger/signing/signature.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { Picture } from '../support/book-picture.js';

const signer: Signer = { name: 'q-1', named: 'a1', roles: ['quality'], meaning: 'this was not so' };

interface Fact {
  readonly source: string;
  readonly id: string;
  readonly subject: string;
}

/** Events that the demo's book takes in, in the order in which the demo posts them. */
const facts = makeDemo().posts.flatMap(({ events }) =>
  events.flatMap((item) => (item.expected === 'accepted' ? [item.event satisfies Fact] : [])),
);

async function bookOf(harness: BookHarness, events: readonly object[]): Promise<void> {
  for (const { kind, name, body } of makeDemo().setup) await harness.setupStore.revise(kind, name, body, 'demo');
  for (let n = 0; n < events.length; n += 500) {
    await harness.post(events.slice(n, n + 500));
    await harness.fold();
  }
}

async function annul(harness: BookHarness, { source, id, subject }: Fact) {
  return annulEvent(harness.deps, { event: { source, id }, subject, note: 'another board was on the bench', signer });
}

/** Lateness depends on what was known when, so it is left out of the comparison. */
function withoutLateness(picture: Picture): Picture {
  return { ...picture, holds: picture.holds.filter((hold) => !hold.startsWith('late-event')) };
}

async function pictureOf(events: readonly object[], struck: readonly Fact[], make: () => Promise<BookHarness>) {
  const harness = await make();
  try {
    await bookOf(harness, events);
    for (const fact of struck) expect(await annul(harness, fact)).toMatchObject({ subject: fact.subject });
    return withoutLateness(await harness.picture());
  } finally {
    await harness.close();
  }
}

describe('annulled events', () => {
  it('leave the book as if they had not been said', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uniqueArray(fc.nat(facts.length - 1), { minLength: 1, maxLength: 4 }), async (places) => {
        const struck = places.flatMap((place) => facts[place] ?? []);
        const rest = facts.filter((fact) => !struck.includes(fact));
        const annulled = await pictureOf(facts, struck, memoryHarness);
        expect(annulled).toEqual(await pictureOf(rest, [], memoryHarness));
      }),
      { numRuns: 8 },
    );
  }, 120_000);

  it('do so on Postgres too', async () => {
    const struck = facts.filter((_, n) => n % 97 === 5);
    const rest = facts.filter((fact) => !struck.includes(fact));
    expect(await pictureOf(facts, struck, postgresHarness)).toEqual(await pictureOf(rest, [], memoryHarness));
  }, 60_000);

  it('stay readable beside the signed entry that strikes them, and what changed is told', async () => {
    const harness = await memoryHarness();
    await bookOf(harness, facts);
    const fact = facts.find(({ subject }) => subject === 'ZIB-PANEL-1/0103');
    if (fact === undefined) throw new Error('the demo has no such unit');
    const before = await harness.reads.ledger(fact.subject, { limit: 500, order: 'asc', afterSeq: null });
    await annul(harness, fact);
    const after = await harness.reads.ledger(fact.subject, { limit: 500, order: 'asc', afterSeq: null });
    expect(after.slice(0, before.length)).toEqual(before);
    const [struck, retold] = after.slice(before.length);
    expect(struck).toMatchObject({
      type: BOOK_ENTRY_TYPES.annulled,
      event: { source: fact.source, id: fact.id },
      actor: { kind: 'person', name: 'q-1' },
      data: { signed: { act: 'annul', note: 'another board was on the bench' }, signature: { named: 'a1' } },
    });
    const { signed, signature } = struck?.data as { signed: object; signature: { contentHash: string } };
    expect(harness.deps.seal.sha256Hex(harness.deps.seal.canonical(signed))).toBe(signature.contentHash);
    expect(retold).toMatchObject({
      type: BOOK_ENTRY_TYPES.rejudged,
      data: { because: [{ annulled: { source: fact.source, id: fact.id } }] },
    });
    const changes = (retold?.data as { changes: { event: object; effects: object[] }[] }).changes;
    expect(changes).toContainEqual({ event: { source: fact.source, id: fact.id }, effects: [] });
    expect(await annul(harness, fact)).toBe('already');
  });

  it('that are parked leave the parking, with their hold', async () => {
    const harness = await memoryHarness();
    await bookOf(harness, facts);
    const [parked] = (await harness.reads.parked({ limit: 1, cursor: null })).items;
    if (parked === undefined) throw new Error('the demo parks nothing');
    const held = (await harness.reads.holdsByEvent(parked)).filter(({ state }) => state === 'open');
    expect(held.map(({ reason }) => reason)).toEqual(['event-parked']);
    const done = await annul(harness, parked);
    expect(done).toMatchObject({ holds: [{ reason: 'event-parked', state: 'withdrawn' }] });
    const left = (await harness.reads.parked({ limit: 500, cursor: null })).items;
    expect(left.map(({ id }) => id)).not.toContain(parked.id);
    expect((await harness.reads.eventStatus(parked))?.state).toBe('annulled');
    expect(await annul(harness, parked)).toBe('already');
    expect(await annul(harness, { ...parked, id: 'never-said' })).toBe('not-told');
  });
});
