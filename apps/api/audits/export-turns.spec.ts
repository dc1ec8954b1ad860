import { ProblemError } from '../http/problem.js';
import { ExportTurns } from './export-turns.js';

function caller(name: string, via: 'key' | 'session' = 'session') {
  return { name, via } as const;
}

describe('turns of exports', () => {
  it('are four for one caller at once, whatever others have', () => {
    const turns = new ExportTurns();
    const ends = Array.from({ length: 4 }, () => turns.take(caller('ann')));
    expect(() => turns.take(caller('ann'))).toThrow(ProblemError);
    expect(() => turns.take(caller('ann', 'key'))).not.toThrow();
    expect(() => turns.take(caller('bob'))).not.toThrow();
    ends[0]?.();
    expect(() => turns.take(caller('ann'))).not.toThrow();
    expect(() => turns.take(caller('ann'))).toThrow('exports of yours');
  });

  it('are sixteen for all together, and free again once they end', () => {
    const turns = new ExportTurns();
    const ends = Array.from({ length: 16 }, (_, n) => turns.take(caller(`c${String(n)}`)));
    expect(() => turns.take(caller('late'))).toThrow('as the service can bear');
    for (const end of ends) end();
    for (let n = 0; n < 16; n += 1) turns.take(caller(`d${String(n)}`));
    expect(() => turns.take(caller('late'))).toThrow(ProblemError);
  });
});
