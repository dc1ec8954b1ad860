import { holdFinder, holdsCalled } from './ledger-holds.js';

const subject = { kind: 'site', assembly: 'A', serial: '1', refdes: 'U7' } as const;
const called = { reason: 'damage-found', subject } as const;
const event = { source: '/stations/S', id: 'e2' };

function hold(id: string, time: string, cause: object = {}) {
  return { id, ...called, cause: { source: '/stations/S', id: `e-${id}`, time, ...cause } };
}

describe('The holds of an entry', () => {
  it('are those that it calls for and those that a person raised, each once', () => {
    const cause = { ...called, event: { ...event, at: '' }, evidence: { summary: '' }, remedy: '' };
    const raised = { kind: 'hold-raised', hold: 'h1', reason: 'by-hand', subject } as const;
    expect(holdsCalled([{ kind: 'hold-called', cause }, { kind: 'hold-called', cause }, raised])).toEqual([
      called,
      { reason: 'by-hand', subject, id: 'h1' },
    ]);
  });
});

describe('A hold is found', () => {
  it('by the event that called for it, whatever the order of its subject’s members', () => {
    const { kind, ...rest } = subject;
    const find = holdFinder([
      hold('a', '2026-01-01T00:00:00Z'),
      { ...hold('b', '2026-01-02T00:00:00Z', event), subject: { ...rest, kind } },
    ]);
    expect(find(called, event, '2026-01-02T00:00:00Z')).toBe('b');
  });

  it('as the latest that an event may have joined, where none is its own', () => {
    const find = holdFinder([
      hold('c', '2026-01-03T00:00:00Z'),
      hold('b', '2026-01-02T00:00:00Z'),
      hold('a', '2026-01-01T00:00:00Z'),
    ]);
    expect(find(called, event, '2026-01-02T12:00:00Z')).toBe('b');
    expect(find(called, event, '2025-12-31T00:00:00Z')).toBeUndefined();
    expect(find({ ...called, reason: 'by-hand' }, event, '2026-01-02T12:00:00Z')).toBeUndefined();
  });

  it('by its name where the entry has it', () => {
    expect(holdFinder([])({ ...called, id: 'h9' }, null, '')).toBe('h9');
  });
});
