import { type CarrierLogEntry, LimitedLog } from './carrier-log.js';

describe('log of the job carrier', () => {
  it('lets one line of a kind through per interval, and then says how many were held back', () => {
    const lines: CarrierLogEntry[] = [];
    let nowMs = 0;
    const log = new LimitedLog(
      (entry) => lines.push(entry),
      1_000,
      () => nowMs,
    );
    for (nowMs = 0; nowMs < 1_000; nowMs += 100) log.report('job queue', new Error('connection refused'));
    log.report('job queue', new Error('connection reset'));
    log.report('job queue', new Error('connection refused'));
    expect(lines.map(({ message, suppressed }) => [message, suppressed])).toEqual([
      ['job queue: connection refused', 0],
      ['job queue: connection reset', 0],
      ['job queue: connection refused', 9],
    ]);
  });

  it('names the code of an error that has no message', () => {
    const lines: string[] = [];
    const log = new LimitedLog(({ message }) => lines.push(message));
    log.report('job queue', Object.assign(new AggregateError([]), { code: 'ECONNREFUSED' }));
    log.report('job queue', new AggregateError([]));
    expect(lines).toEqual(['job queue: ECONNREFUSED', 'job queue: AggregateError']);
  });
});
