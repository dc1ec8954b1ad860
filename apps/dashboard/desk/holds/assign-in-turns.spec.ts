import { problemOf } from '../api/api-problem.js';
import { assignInTurns, type Turn, turnsOf } from './assign-in-turns.js';

const picked = (count: number, dueAt: string | null = null) =>
  new Map(Array.from({ length: count }, (_, n) => [`h${n}`, dueAt] as const));
const going = () => ({ tell: () => undefined, signal: new AbortController().signal });
const problem = (code: string, status = 409) => problemOf(status, { type: `urn:heatbook:problem:${code}` });

describe('Many holds to assign', () => {
  it('are cut into turns that the API takes', () => {
    const turns = turnsOf(picked(450), 'q-7', { dueAt: null });
    expect(turns.map(({ holds }) => holds.length)).toEqual([200, 200, 50]);
    expect(new Set(turns.flatMap(({ holds }) => holds)).size).toBe(450);
  });

  it('keep each its own due date, or all get one', () => {
    const mixed = new Map([...picked(2), ['late', '2026-03-01T12:00:00Z'] as const]);
    expect(turnsOf(mixed, 'q-7', 'as-it-is')).toEqual([
      { holds: ['h0', 'h1'], assignee: 'q-7', dueAt: null },
      { holds: ['late'], assignee: 'q-7', dueAt: '2026-03-01T12:00:00Z' },
    ]);
    expect(turnsOf(mixed, null, { dueAt: '2026-04-01T12:00:00Z' })).toEqual([
      { holds: ['h0', 'h1', 'late'], assignee: null, dueAt: '2026-04-01T12:00:00Z' },
    ]);
  });

  it('are all assigned but those that are refused, which are named with the reason', async () => {
    const closed = new Set(['h3', 'h130']);
    const seen: number[] = [];
    const send = ({ holds }: Turn) =>
      holds.some((id) => closed.has(id)) ? Promise.reject(problem('hold-not-open')) : Promise.resolve();
    const outcome = await assignInTurns(turnsOf(picked(450), 'q-7', 'as-it-is'), send, {
      ...going(),
      tell: (done) => seen.push(done),
    });
    expect(outcome.assigned).toHaveLength(448);
    expect(outcome.assigned).not.toContain('h130');
    expect(outcome.refused.map(({ id, problem: { code } }) => [id, code])).toEqual([
      ['h3', 'hold-not-open'],
      ['h130', 'hold-not-open'],
    ]);
    expect(outcome.stopped).toBeNull();
    expect(seen.at(-1)).toBe(450);
  });

  it('are left alone after a refusal that is about none of them, or when it is to end', async () => {
    let asked = 0;
    const unfit = () => ((asked += 1) === 2 ? Promise.reject(problem('assignee-unfit', 422)) : Promise.resolve());
    const outcome = await assignInTurns(turnsOf(picked(450), 'x', 'as-it-is'), unfit, going());
    expect([outcome.assigned.length, outcome.stopped?.code, asked]).toEqual([200, 'assignee-unfit', 2]);

    const stop = new AbortController();
    const once = () => {
      stop.abort();
      return Promise.resolve();
    };
    const ended = await assignInTurns(turnsOf(picked(450), 'x', 'as-it-is'), once, { ...going(), signal: stop.signal });
    expect([ended.assigned.length, ended.stopped]).toEqual([200, null]);
  });
});
