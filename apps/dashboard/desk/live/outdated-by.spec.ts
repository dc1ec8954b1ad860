import { outdatedBy } from './outdated-by.js';

describe('A message of the stream makes out of date', () => {
  it('the hold, the lists that it may be in, and its board', () => {
    const subject = { kind: 'site', assembly: 'A-1', serial: '0103', refdes: 'U7' };
    const outdated = outdatedBy('hold', JSON.stringify({ id: 'h1', subject }));
    expect(outdated).toEqual(
      expect.arrayContaining([['holds'], ['hold-summary'], ['hold', 'h1'], ['unit', 'A-1/0103']]),
    );
  });

  it('the board that a hold on a device came to light on', () => {
    const hold = { id: 'h2', subject: { kind: 'device', device: 'K-7' }, unit: { assembly: 'A-1', serial: '0103' } };
    expect(outdatedBy('hold', JSON.stringify(hold))).toEqual(
      expect.arrayContaining([
        ['device', 'K-7'],
        ['unit', 'A-1/0103'],
      ]),
    );
  });

  it('the ledger and the board or device of an entry, and no hold', () => {
    const board = outdatedBy(
      'entry',
      JSON.stringify({ stream: 'A-1/0103', subject: { assembly: 'A-1', serial: '0103' } }),
    );
    expect(board).toEqual(
      expect.arrayContaining([
        ['ledger', 'A-1/0103'],
        ['unit', 'A-1/0103'],
      ]),
    );
    expect(board).not.toContainEqual(['holds']);
    expect(outdatedBy('entry', JSON.stringify({ subject: { kind: 'device', device: 'K-7' } }))).toContainEqual([
      'device',
      'K-7',
    ]);
  });

  it('clearances, and the board that one is for', () => {
    expect(outdatedBy('clearance', JSON.stringify({ assembly: 'A-1', serial: '0103' }))).toEqual([
      ['clearances'],
      ['unit', 'A-1/0103'],
    ]);
  });

  it('no board where it cannot be read', () => {
    for (const data of ['', '{', '7', 'null', '{"subject":{"assembly":7}}']) {
      expect(outdatedBy('clearance', data)).toEqual([['clearances']]);
    }
  });
});
