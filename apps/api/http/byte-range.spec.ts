import { byteRange } from './byte-range.js';

describe('a range of bytes', () => {
  const of = (range?: string, ifRange?: string) => byteRange({ range, ifRange }, 100, '"tag"');

  it.each([
    ['bytes=0-0', { from: 0, to: 1 }],
    ['bytes=10-19', { from: 10, to: 20 }],
    ['bytes=90-', { from: 90, to: 100 }],
    ['bytes=90-500', { from: 90, to: 100 }],
    ['bytes=-10', { from: 90, to: 100 }],
    ['bytes=-500', { from: 0, to: 100 }],
  ])('is what %s asks for', (range, expected) => {
    expect(of(range)).toEqual(expected);
  });

  it.each([undefined, '', 'bytes=', 'bytes=-', 'bytes=9-3', 'bytes=0-1,5-6', 'lines=0-1', 'bytes=a-b', 'bytes=0x1-'])(
    'is passed over where it is %s',
    (range) => {
      expect(of(range)).toBeUndefined();
    },
  );

  it.each(['bytes=100-', 'bytes=100-200', 'bytes=-0'])('cannot be satisfied where it is %s', (range) => {
    expect(of(range)).toBe('unsatisfiable');
  });

  it('counts only for the body that If-Range names', () => {
    expect(of('bytes=10-', '"tag"')).toEqual({ from: 10, to: 100 });
    expect(of('bytes=10-', '"other"')).toBeUndefined();
    expect(of('bytes=10-', 'W/"tag"')).toBeUndefined();
  });
});
