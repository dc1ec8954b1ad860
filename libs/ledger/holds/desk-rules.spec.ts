import { HOLD_REASONS } from '../../domain/holds/hold-reason.js';
import { gravenessOf, reasonsOf } from '../../domain/holds/graveness.js';
import { sampleHold } from '../ports/book-samples.contract.js';
import { MOST_COMMENTS, MOST_DISPOSITIONS, refuseAssignment, refuseComment, refuseDisposition } from './desk-rules.js';
import { fittingDecisions } from './fitting-decisions.js';
import { Disposition } from './hold-record.js';
import { stageOf } from './hold-stage.js';

const quinn = { name: 'quinn', roles: ['quality'] } as const;

const disposition: Disposition = {
  id: 'd',
  decision: 'rework',
  note: 'Once more.',
  signature: {
    by: 'quinn',
    named: 'a1',
    at: '2026-03-03T10:00:00.000Z',
    meaning: 'decided',
    contentHash: 'ab',
  },
  approved: false,
};

describe('the rules of the desk', () => {
  it('bound what one hold gathers', () => {
    const comment = { by: 'quinn', at: '2026-03-03T10:00:00.000Z', text: 'x' };
    const comments = (count: number) => Array.from({ length: count }, () => comment);
    expect(refuseComment(sampleHold('h', { comments: comments(MOST_COMMENTS - 1) }), quinn)).toBeUndefined();
    expect(refuseComment(sampleHold('h', { comments: comments(MOST_COMMENTS) }), quinn)?.refused).toBe('hold-full');
    const decided = (count: number) => ({ dispositions: Array.from({ length: count }, () => disposition) });
    expect(refuseDisposition(sampleHold('h', decided(MOST_DISPOSITIONS - 1)), quinn)).toBeUndefined();
    expect(refuseDisposition(sampleHold('h', decided(MOST_DISPOSITIONS)), quinn)?.refused).toBe('hold-full');
  });

  it('let what is closed be commented on, and nothing else', () => {
    const closed = sampleHold('h', { state: 'withdrawn' });
    expect(refuseComment(closed, quinn)).toBeUndefined();
    expect(refuseAssignment(closed, quinn)?.refused).toBe('hold-not-open');
    expect(refuseDisposition(closed, quinn)?.refused).toBe('hold-not-open');
  });

  it('tell how far the work has got', () => {
    const stage = (over: Parameters<typeof sampleHold>[1]) => stageOf(sampleHold('h', over));
    expect(stage({})).toBe('new');
    expect(stage({ assignee: 'ann' })).toBe('assigned');
    expect(stage({ assignee: 'ann', dispositions: [disposition] })).toBe('decided');
    expect(stage({ dispositions: [disposition] })).toBe('decided');
    expect(stage({ dispositions: [disposition], state: 'released' })).toBe('closed');
    expect(stage({ state: 'withdrawn' })).toBe('closed');
  });

  it('know no repair inside a device, and nothing but use as is of what belongs to the house', () => {
    expect(fittingDecisions({ kind: 'device', device: 'D1' })).not.toContain('repair');
    expect(fittingDecisions({ kind: 'site', assembly: 'B', serial: '1', refdes: 'U7' })).toContain('repair');
    for (const subject of [
      { kind: 'station', station: 'S' },
      { kind: 'operator', operator: 'O' },
      { kind: 'profile', name: 'P', revision: 'A' },
    ] as const) {
      expect(fittingDecisions(subject)).toEqual(['use-as-is']);
    }
  });

  it('give every reason one graveness', () => {
    const all = ([1, 2, 3] as const).flatMap((graveness) => reasonsOf(graveness));
    expect([...all].sort()).toEqual([...HOLD_REASONS].sort());
    expect(gravenessOf('shipped-open')).toBeLessThan(gravenessOf('damage-found'));
    expect(gravenessOf('damage-found')).toBeLessThan(gravenessOf('by-hand'));
  });
});
