import { FoldProgress } from './fold-progress.js';

describe('progress of the fold', () => {
  let nowMs = 0;
  let progress: FoldProgress;
  const first = { pending: 900_000, oldestReceivedAt: '2030-01-01T00:00:00.000Z' };
  const later = { pending: 800_000, oldestReceivedAt: '2030-01-01T00:00:07.000Z' };
  const none = { pending: 0, oldestReceivedAt: null };

  beforeEach(() => {
    nowMs = 5_000;
    progress = new FoldProgress(() => nowMs);
  });

  it('is there while the oldest pending event changes, however many wait', () => {
    expect(progress.moves(first)).toBe(true);
    nowMs += 59_000;
    expect(progress.moves(later)).toBe(true);
    nowMs += 59_000;
    expect(progress.moves(later)).toBe(true);
  });

  it('is missing once the same event is the oldest for more than a minute', () => {
    progress.moves(first);
    nowMs += 60_000;
    expect(progress.moves(first)).toBe(true);
    nowMs += 1;
    expect(progress.moves(first)).toBe(false);
    expect(progress.moves(later)).toBe(true);
  });

  it('needs nothing to move where nothing waits', () => {
    for (let look = 0; look < 3; look += 1, nowMs += 100_000) expect(progress.moves(none)).toBe(true);
    expect(progress.moves(first)).toBe(true);
  });
});
