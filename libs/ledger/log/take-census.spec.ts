import { seal } from '../../evidence/seal.js';
import { BookHarness, memoryHarness } from '../../../test/support/book-harness.js';
import { HandClock } from '../../../test/support/hand-clock.js';
import { addEntries, logDepsOf } from '../../../test/support/log-bench.js';
import { censusTree } from './census-tree.js';
import { CensusData } from './log-evidence.js';
import { sequenceLog } from './sequence-log.js';
import { rootAt } from './merkle/merkle-proofs.js';
import { toHex } from './notes/hex.js';
import { SiteLogDeps } from './site-log-deps.js';
import { storedSubtrees } from './stored-subtrees.js';
import { censuses, takeCensus } from './take-census.js';

const DAY_MS = 86_400_000;

describe('the census', () => {
  let clock: HandClock;
  let harness: BookHarness;
  let deps: SiteLogDeps;
  beforeEach(async () => {
    clock = new HandClock(Date.parse('2026-03-02T08:00:00Z'));
    harness = await memoryHarness(clock);
    deps = logDepsOf(harness);
    await sequenceLog(deps);
  });
  afterEach(() => harness.close());

  const taken = async (): Promise<CensusData[]> => {
    const all: CensusData[] = [];
    for await (const { data } of censuses(harness.reads)) all.push(data);
    return all;
  };
  const days = async (): Promise<string[]> => (await taken()).map(({ day, size }) => `${day} ${size}`);
  /** Goes to a time of the clock and runs both timers. */
  const at = async (time: string): Promise<void> => {
    clock.ms = Date.parse(time);
    await takeCensus(deps);
    await sequenceLog(deps);
  };

  it('is over the last entry of each ledger, in groups, and can be worked out from the log alone', async () => {
    for (const subject of ['A/2', 'A-1/1', 'devices/D', 'stations/S', 'A/1', 'A/2']) await addEntries(deps, subject, 2);
    await sequenceLog(deps);
    await at('2026-03-03T00:01:00Z');
    const [census] = await taken();
    const hashing = { sha256: deps.sha256, canonical: (value: unknown) => seal.canonical(value) };
    const tree = await censusTree(hashing, await harness.siteLog.ledgersAt(13, { after: null, limit: 100 }));
    expect(census).toEqual({
      ...{ day: '2026-03-02', size: 13, groups: 5, ledgers: 6, entries: 13, root: tree.root },
      logRoot: toHex(await rootAt(deps.sha256, storedSubtrees(deps.sha256, harness.siteLog), 13)),
    });
    expect(await harness.siteLog.censusGroups(13)).toEqual(tree.branches.map(({ group }) => group));
    expect(tree.branches.map(({ group }) => `${group.group} ${group.ledgers} ${group.entries}`)).toEqual([
      ...['A 2 6', 'A-1 1 2', 'devices 1 2', 'stations 1 2', '~book 1 1'],
    ]);
  });

  it('is taken a minute after the end of the day, once, however often and by however many it is asked for', async () => {
    await addEntries(deps, 'A/1');
    await at('2026-03-03T00:00:59.999Z');
    expect(await days()).toEqual([]);
    clock.ms = Date.parse('2026-03-03T00:01:00Z');
    await Promise.all([takeCensus(deps), takeCensus(deps), takeCensus(deps)]);
    await at('2026-03-03T23:00:00Z');
    expect(await days()).toEqual(['2026-03-02 2']);
  });

  it('is of the log up to the newest entry of before the day’s end', async () => {
    clock.ms = Date.parse('2026-03-02T23:59:59.999Z');
    await addEntries(deps, 'A/1');
    clock.ms = Date.parse('2026-03-03T00:00:00Z');
    await addEntries(deps, 'A/1');
    // Nobody has placed them yet: the census sees to it.
    await at('2026-03-03T00:01:00Z');
    expect(await days()).toEqual(['2026-03-02 2']);
    await at('2026-03-04T00:01:00Z');
    expect(await days()).toEqual(['2026-03-02 2', '2026-03-03 4']);
  });

  it('is taken for every day that was missed, and for none on which nothing happened', async () => {
    await addEntries(deps, 'A/1');
    await at('2026-03-03T00:01:00Z');
    for (const day of [5, 6, 9]) {
      clock.ms = Date.parse(`2026-03-0${day}T12:00:00Z`);
      await addEntries(deps, 'A/2');
    }
    await at('2026-03-09T13:00:00Z');
    expect((await taken()).map(({ day }) => day)).toEqual(['2026-03-02', '2026-03-05', '2026-03-06']);
    await at('2026-03-20T00:00:00Z');
    await at('2026-03-21T00:00:00Z');
    expect((await taken()).map(({ day }) => day)).toEqual(['2026-03-02', '2026-03-05', '2026-03-06', '2026-03-09']);
  });

  it('begins with the last day that has ended, whatever the book has from before', async () => {
    await addEntries(deps, 'A/1');
    clock.pass(5 * DAY_MS);
    await addEntries(deps, 'A/1');
    await takeCensus(deps);
    expect(await days()).toEqual(['2026-03-06 2']);
  });

  it('waits for a key', async () => {
    const keyless = await memoryHarness(clock);
    const without = logDepsOf(keyless, { signer: undefined });
    await addEntries(without, 'A/1');
    clock.pass(DAY_MS);
    await takeCensus(without);
    expect(await keyless.siteLog.waitingCount()).toBe(1);
  });
});
