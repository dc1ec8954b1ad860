import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { holdId, labelOf, sampleHold, unitState } from './book-samples.contract.js';
import { SubjectRecord, TryAgain } from './book-store.js';
import { GENESIS_HASH } from './seal.js';

const UNIT = 'BRD-1/0001';

/** What one fold reads and writes. */
export function describeTransaction(bench: () => BookBench): void {
  describeSubjects(bench);
  describeHolds(bench);
}

function describeSubjects(bench: () => BookBench): void {
  it('loads an empty record for what is new, each subject once, sorted by key', async () => {
    // By code units, whatever the collation of a database.
    const sorted = [
      'BRD-1/0001',
      'BRD-1/0001-a',
      'BRD-10/0001',
      'BRD.1/0001',
      'devices/D2',
      'devices/d1',
      'stations/S1',
    ];
    const asked = [...sorted, UNIT].reverse();
    expect(await bench().inShard(0, (tx) => tx.load(asked))).toEqual(
      sorted.map((key) => ({
        key,
        state: null,
        headSeq: 0,
        headHash: GENESIS_HASH,
      })),
    );
    expect(await bench().inShard(0, (tx) => tx.load([]))).toEqual([]);
  });

  it('leaves out what is new where it is asked for only if it is known', async () => {
    await bench().append('devices/D2');
    const records = await bench().inShard(0, (tx) => tx.load([UNIT], ['devices/D2', 'devices/D1', UNIT]));
    expect(records.map(({ key, headSeq }) => `${key} ${headSeq}`)).toEqual([`${UNIT} 0`, 'devices/D2 1']);
    expect(await bench().inShard(0, (tx) => tx.load([], ['devices/D1']))).toEqual([]);
    expect(await bench().read.subject('devices/D1')).toBeUndefined();
  });

  it('writes a new subject without its having been loaded', async () => {
    const empty = { key: UNIT, state: null, headSeq: 0, headHash: GENESIS_HASH };
    const { subject, entries } = bench().grown(empty, 2);
    await bench().inShard(0, async (tx) => {
      await tx.load([], [UNIT]);
      await tx.write({ ...NO_CHANGES, subjects: [subject], entries });
      expect(await tx.load([UNIT])).toEqual([subject]);
      await bench().appendIn(tx, UNIT);
    });
    expect(await bench().read.subject(UNIT)).toMatchObject({ headSeq: 3 });
  });

  it('asks to try again where a subject that was not loaded is there already', async () => {
    await bench().append('devices/D1', 2);
    const empty = { key: 'devices/D1', state: null, headSeq: 0, headHash: GENESIS_HASH };
    const { subject, entries } = bench().grown(empty);
    const writing = bench().inShard(0, async (tx) => {
      await bench().appendIn(tx, UNIT);
      await tx.write({ ...NO_CHANGES, subjects: [subject], entries });
    });
    await expect(writing).rejects.toThrow(TryAgain);
    expect(await bench().read.subject('devices/D1')).toMatchObject({ headSeq: 2 });
    expect(await bench().read.subject(UNIT)).toBeUndefined();
  });

  it('gives back what was written, and keeps it from later changes by the caller', async () => {
    const state = unitState('BRD-1', '0001');
    const written = await bench().inShard(0, async (tx) => {
      const { subject, entries } = bench().grown(await bench().loadOne(tx, UNIT));
      const record: SubjectRecord = { ...subject, state: { kind: 'unit', state } };
      await tx.write({ ...NO_CHANGES, subjects: [record], entries });
      return { record: structuredClone(record), entries: structuredClone(entries).map(({ entry }) => entry) };
    });
    state.status = 'scrapped';
    await bench().inShard(0, async (tx) => {
      const [loaded] = await tx.load([UNIT]);
      expect(loaded).toEqual(written.record);
      if (loaded?.state?.kind === 'unit') loaded.state.state.serial = 'changed';
      expect(await tx.load([UNIT])).toEqual([written.record]);
      expect(await tx.entries([UNIT])).toEqual(written.entries);
    });
  });

  it('moves the head with every entry, also within one transaction, and reads its own writes', async () => {
    const first = await bench().append(UNIT, 2);
    await bench().inShard(0, async (tx) => {
      const second = await bench().appendIn(tx, UNIT, 1);
      const third = await bench().appendIn(tx, UNIT, 2);
      const all = [...first, ...second, ...third];
      expect(all.map(({ seq }) => seq)).toEqual([1, 2, 3, 4, 5]);
      expect(await tx.entries([UNIT])).toEqual(all);
      expect(await tx.load([UNIT])).toMatchObject([{ headSeq: 5, headHash: all.at(-1)?.hash }]);
    });
    expect(await bench().read.subject(UNIT)).toMatchObject({ headSeq: 5 });
  });

  it('can forget the state of a subject while its ledger stays', async () => {
    const [entry] = await bench().append('devices/D1');
    await bench().inShard(0, async (tx) => {
      const record = await bench().loadOne(tx, 'devices/D1');
      await tx.write({ ...NO_CHANGES, subjects: [{ ...record, state: null }] });
    });
    const [after] = await bench().inShard(0, (tx) => tx.load(['devices/D1']));
    expect(after).toEqual({ key: 'devices/D1', state: null, headSeq: 1, headHash: entry?.hash });
  });

  it('reads the entries of several ledgers by key and sequence', async () => {
    await bench().append(UNIT, 3);
    await bench().append('devices/D1', 2);
    await bench().append('devices/D2', 1);
    const entries = await bench().inShard(0, (tx) => tx.entries(['devices/D1', 'stations/S1', UNIT]));
    expect(entries.map(({ subject, seq }) => `${subject} ${seq}`)).toEqual(
      [1, 2, 3].map((seq) => `${UNIT} ${seq}`).concat(['devices/D1 1', 'devices/D1 2']),
    );
  });

  it('writes many subjects and entries at once', async () => {
    const keys = Array.from({ length: 60 }, (_, index) => `BRD-1/${index}`);
    await bench().inShard(0, async (tx) => {
      const grown = (await tx.load(keys)).map((record) => bench().grown(record, 5));
      const subjects = grown.map(({ subject }) => subject);
      await tx.write({ ...NO_CHANGES, subjects, entries: grown.flatMap(({ entries }) => entries) });
    });
    const heads = (await bench().read.subjects(keys)).map(({ headSeq }) => headSeq);
    expect(heads).toEqual(keys.map(() => 5));
  });

  it('knows the version of the newest setup revision', async () => {
    const before = await bench().inShard(0, (tx) => tx.setupVersion());
    const { version } = await bench().setup.revise('operator', 'op-1', { qualifications: [] }, 'admin');
    expect(await bench().inShard(0, (tx) => tx.setupVersion())).toBe(version);
    expect(version).toBeGreaterThan(before);
  });
}

function describeHolds(bench: () => BookBench): void {
  it('finds holds in any state by unit, site, device and the unit on which they came to light', async () => {
    const here = { assembly: 'BRD-1', serial: '0001' };
    const there = { assembly: 'BRD-1', serial: '0002' };
    await bench().write({
      holds: [
        sampleHold('h-unit', { subject: { kind: 'unit', ...here }, state: 'released' }),
        sampleHold('h-site', { subject: { kind: 'site', ...here, refdes: 'U9' } }),
        sampleHold('h-there', { subject: { kind: 'unit', ...there }, unit: there, state: 'withdrawn' }),
        sampleHold('h-device-here', { subject: { kind: 'device', device: 'D1' }, unit: here }),
        sampleHold('h-device-there', { subject: { kind: 'device', device: 'D1' }, unit: there }),
        sampleHold('h-loose', { subject: { kind: 'device', device: 'D2' }, unit: null }),
      ],
    });
    const found = (keys: string[]) => bench().inShard(0, async (tx) => (await tx.holds(keys)).map(labelOf).sort());
    expect(await found([UNIT])).toEqual(['h-device-here', 'h-site', 'h-unit']);
    expect(await found(['devices/D1'])).toEqual(['h-device-here', 'h-device-there']);
    expect(await found(['devices/D2', 'BRD-1/0002'])).toEqual(['h-device-there', 'h-loose', 'h-there']);
    expect(await found(['BRD-1/0002', 'devices/D1'])).toEqual(['h-device-here', 'h-device-there', 'h-there']);
    expect(await found(['devices/D3', 'BRD-1/000'])).toEqual([]);
    expect(await found([])).toEqual([]);
  });

  it('keeps a hold as it was written last', async () => {
    const hold = sampleHold('h1', { subject: { kind: 'device', device: 'D1' }, unit: null, operator: null });
    await bench().write({ holds: [hold] });
    expect(await bench().inShard(0, (tx) => tx.hold(holdId('h1')))).toEqual(hold);
    expect(await bench().inShard(0, (tx) => tx.hold(holdId('h2')))).toBeUndefined();

    const signature = {
      named: 'a1',
      at: '2026-03-03T10:00:00.000Z',
      meaning: 'as decided',
      contentHash: 'ab',
    };
    const release = {
      by: 'quality',
      at: '2026-03-03T10:00:00.000Z',
      note: 'Measured again.',
      signature: { by: 'quality', ...signature },
      approved: true,
      withoutCause: false,
    };
    const decided = {
      dispositions: [
        {
          id: 'a-decision',
          decision: 'use-as-is',
          note: 'Within the limit after all.',
          signature: { by: 'other', ...signature },
          approved: false,
        },
      ],
      assignee: 'other',
      dueAt: '2026-03-05T10:00:00.000Z',
      comments: [{ by: 'other', at: '2026-03-03T09:00:00.000Z', text: 'Looking into it.' }],
    } as const;
    const causes = [{ at: '2026-03-02T08:29:00.000000000Z', source: '/stations/bench-2', id: 'e0' }];
    const found = { causes, station: 'bench-2', operator: 'op-4', remedy: 'Use as is.', causeGone: true };
    const unit = { assembly: 'BRD-1', serial: '0002' };
    const released = sampleHold('h1', {
      ...hold,
      unit,
      ...found,
      ...decided,
      state: 'released',
      touched: true,
      release,
    });
    await bench().inShard(0, async (tx) => {
      await tx.write({ ...NO_CHANGES, holds: [released] });
      expect(await tx.hold(holdId('h1'))).toEqual(released);
      expect(await tx.holds(['devices/D1'])).toEqual([released]);
      expect(await tx.holds(['BRD-1/0002'])).toEqual([released]);
    });
    expect(await bench().read.holdById(holdId('h1'))).toEqual(released);
    expect(await bench().inShard(0, (tx) => tx.holds(['devices/D1']))).toEqual([released]);
  });
}
