import { causeInWords, causeOf, causeWish, isWhole, wishInAddress } from './cause-wish.js';

describe('A suspect cause', () => {
  const [from, to] = ['2026-03-02T06:00:00.000Z', '2026-03-03T06:00:00.000Z'];

  it('comes from the address that a hold links to, and goes to the API as it was', () => {
    const wish = causeWish(new URLSearchParams({ station: 'HOTGAS-2', from, to }));
    expect(wish).toMatchObject({ kind: 'station', name: 'HOTGAS-2' });
    expect(causeOf(wish)).toEqual({ station: 'HOTGAS-2', from, to });
    const profile = causeWish(new URLSearchParams({ profile: 'A-OFF', revision: 'B', from, to }));
    expect(causeOf(profile)).toEqual({ profile: { name: 'A-OFF', revision: 'B' }, from, to });
    expect(causeOf({ ...profile, revision: '' })).toEqual({ profile: { name: 'A-OFF' }, from, to });
  });

  it('is whole with a name and both times', () => {
    expect(isWhole(causeWish(new URLSearchParams({ lot: 'L-1', from, to })))).toBe(true);
    expect(isWhole(causeWish(new URLSearchParams({ lot: 'L-1', from })))).toBe(false);
  });

  it('goes back into the address', () => {
    const wish = causeWish(new URLSearchParams({ profile: 'A-OFF', revision: 'B', from, to }));
    expect(causeWish(wishInAddress(wish))).toEqual(wish);
    expect(Object.fromEntries(wishInAddress({ ...wish, revision: '' }))).toEqual({ profile: 'A-OFF', from, to });
  });

  it('is empty where the address names none', () => {
    expect(causeWish(new URLSearchParams('from=yesterday'))).toEqual({
      ...{ kind: 'station', name: '', revision: '', from: '', to: '' },
    });
  });

  it('is said in words', () => {
    expect(causeInWords({ station: 'HOTGAS-2', from, to })).toBe('station HOTGAS-2');
    expect(causeInWords({ solderAlloy: 'SAC305', from, to })).toBe('solder alloy SAC305');
    expect(causeInWords({ profile: { name: 'A', revision: 'B' }, from, to })).toBe('profile A, revision B');
    expect(causeInWords({ profile: { name: 'A' }, from, to })).toBe('profile A, every revision');
  });
});
