import pg from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';

type Json = Readonly<Record<string, unknown>>;

const disposed = (over: Json = {}): Json => ({
  id: 'd',
  decision: 'rework',
  signature: { by: 'quinn' },
  approved: false,
  ...over,
});
const released = (over: Json = {}): Json => ({ by: 'rita', signature: { by: 'rita' }, approved: false, ...over });

const UNSIGNED: Json = { by: 'old', signature: null, unsigned: true };

describe('the constraint on releases', () => {
  let database: FreshDatabase;
  let client: pg.Client;

  beforeAll(async () => {
    database = await migratedDatabase();
    client = new pg.Client({ connectionString: database.url });
    await client.connect();
  });

  afterAll(async () => {
    await client.end();
    await database.drop();
  });

  const insert = (
    release: Json | null,
    {
      dispositions = [],
      raisedBy = null,
      state = 'released',
      raisedAt = new Date().toISOString(),
      causeGone = false,
      reason = 'by-hand',
    }: Partial<Record<'raisedBy' | 'state' | 'raisedAt' | 'reason', string | null>> & {
      dispositions?: unknown;
      causeGone?: boolean;
    } = {},
  ): Promise<unknown> =>
    client.query(
      `INSERT INTO hold (id, state, reason, subject, stream, raised_at, raised_by, causes, evidence, remedy, touched,
         cause_gone, release, dispositions)
       VALUES (gen_random_uuid(), $1, $5, '{}', 'X/1', $6, $2, '[]', '{}', '', true, $7, $3, $4)`,
      [
        ...[state, raisedBy, release === null ? null : JSON.stringify(release), JSON.stringify(dispositions)],
        ...[reason, raisedAt, causeGone],
      ],
    );

  const passes: [string, Parameters<typeof insert>][] = [
    ['nothing released', [null, { state: 'open' }]],
    ['one who decided and another who released', [released(), { dispositions: [disposed()] }]],
    [
      'the last of several decisions alone',
      [released(), { dispositions: [disposed({ decision: 'use-as-is', signature: { by: 'rita' } }), disposed()] }],
    ],
    [
      'use as is that an approver decided',
      [released(), { dispositions: [disposed({ decision: 'use-as-is', approved: true })] }],
    ],
    [
      'use as is that an approver released',
      [released({ approved: true }), { dispositions: [disposed({ decision: 'use-as-is' })] }],
    ],
    [
      'no decision where the cause was gone',
      [released({ withoutCause: true }), { raisedBy: 'quinn', causeGone: true }],
    ],
    ['what was released before there were signatures', [UNSIGNED, { raisedAt: '2020-01-01T00:00:00Z' }]],
    ['what the book withdraws', [null, { state: 'withdrawn', reason: 'site-reworks' }]],
  ];
  it.each(passes)('passes %s', async (_what, hold) => {
    await expect(insert(...hold)).resolves.toMatchObject({ rowCount: 1 });
  });

  const refuses: [string, Parameters<typeof insert>][] = [
    ['a release that nobody made', [null]],
    ['one that nobody signed', [released({ signature: null }), { dispositions: [disposed()] }]],
    ['one without a member for its signature', [{ by: 'rita' }, { dispositions: [disposed()] }]],
    ['one that says nobody', [{ signature: { by: 'rita' } }, { dispositions: [disposed()] }]],
    [
      'one signed by somebody else than it says',
      [released({ by: 'quinn' }), { dispositions: [disposed({ signature: { by: 'ada' } })] }],
    ],
    ['whoever raised it', [released(), { dispositions: [disposed()], raisedBy: 'rita' }]],
    ['whoever raised it, though the cause is gone', [released({ withoutCause: true }), { raisedBy: 'rita' }]],
    ['whoever decided', [released(), { dispositions: [disposed({ signature: { by: 'rita' } })] }]],
    ['a decision that nobody signed', [released(), { dispositions: [disposed({ signature: null })] }]],
    ['no decision', [released()]],
    ['no decision, with null for the cause', [released({ withoutCause: null })]],
    ['use as is without an approver', [released(), { dispositions: [disposed({ decision: 'use-as-is' })] }]],
    [
      'use as is with null for approvers',
      [released({ approved: null }), { dispositions: [disposed({ decision: 'use-as-is', approved: null })] }],
    ],
    ['a decision of no name', [released(), { dispositions: [disposed({ decision: null })] }]],
    ['a release of what is open, by the same rules', [released(), { state: 'open' }]],
  ];
  it.each(refuses)('refuses %s', async (_what, hold) => {
    await expect(insert(...hold)).rejects.toThrow('hold_takes_two');
  });

  it.each<[string, string, Parameters<typeof insert>]>([
    ['a release of today that calls itself old', 'hold_unsigned_is_old', [UNSIGNED]],
    ['a release without cause where the cause stands', 'hold_without_cause', [released({ withoutCause: true })]],
    ['to withdraw what a person raised', 'hold_withdrawn_by_facts', [null, { state: 'withdrawn' }]],
    [
      'to withdraw what was decided',
      'hold_withdrawn_by_facts',
      [null, { state: 'withdrawn', reason: 'site-reworks', dispositions: [disposed()] }],
    ],
  ])('refuses %s', async (_what, constraint, hold) => {
    await expect(insert(...hold)).rejects.toThrow(constraint);
  });

  it.each([
    ['dispositions that are no list', { dispositions: {} }],
    ['dispositions that are null', { dispositions: null }],
  ])('refuses %s', async (_what, hold) => {
    await expect(insert(released(), hold)).rejects.toThrow(pg.DatabaseError);
  });

  it('holds for a later change too', async () => {
    await insert(released(), { dispositions: [disposed()] });
    await expect(client.query(`UPDATE hold SET raised_by = 'rita' WHERE release ->> 'by' = 'rita'`)).rejects.toThrow(
      'hold_takes_two',
    );
  });
});
