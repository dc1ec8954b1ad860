import { apart, curvePicture, CurvePicture } from './curve-picture.js';

const PICTURE: CurvePicture = {
  title: 'Work & <waiting>',
  x: { label: 'events in the book', kind: 'log' },
  y: { label: 'us of CPU an event', kind: 'linear' },
  curves: [
    {
      label: 'worker',
      points: [
        [10_000, 210],
        [300_000, 220],
      ],
    },
    {
      label: 'Postgres',
      points: [
        [10_000, 215],
        [300_000, 219],
      ],
    },
  ],
};

describe('a picture of curves', () => {
  const svg = curvePicture(PICTURE);

  it('can be read aloud, and says what its axes are', () => {
    expect(svg).toContain('role="img"');
    expect(svg).toContain('<title id="title">Work &amp; &lt;waiting&gt;</title>');
    expect(svg).toContain('>events in the book</text>');
    expect(svg).toContain('>us of CPU an event</text>');
    for (const tick of ['10k', '100k', '1M', '0', '50', '250']) expect(svg).toContain(`>${tick}</text>`);
  });

  it('names each curve beside its end, and tells them apart by more than colour', () => {
    expect(svg).toMatch(/>worker<\/text>/);
    expect(svg).toMatch(/>Postgres<\/text>/);
    expect(new Set([...svg.matchAll(/stroke-dasharray="([^"]+)"/g)].map(([, dash]) => dash)).size).toBe(2);
    expect(svg).not.toMatch(/NaN|undefined/);
  });

  it('is not drawn of nothing', () => {
    expect(() => curvePicture({ ...PICTURE, curves: [] })).toThrow('nothing to draw');
  });
});

describe('names of curves', () => {
  it('stay where they are while there is room', () => {
    expect(apart([100, 40, 70], 300)).toEqual([100, 40, 70]);
  });

  it('make room for each other in their order, and stay above the bottom', () => {
    expect(apart([50, 50, 52], 300)).toEqual([50, 65, 80]);
    expect(apart([300, 299, 10], 300)).toEqual([300, 285, 10]);
  });
});
