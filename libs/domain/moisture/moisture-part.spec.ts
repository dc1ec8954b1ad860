import { moisturePart } from './moisture-part.js';

describe('a part of the setup as moisture sees it', () => {
  const part = { lengthMm: 15, widthMm: 14, thicknessMm: 1.7, msl: '3', ballAlloy: 'SAC305' } as const;

  it('is taken to be a BGA, and has a barrier only where one is declared', () => {
    expect(moisturePart(part)).toEqual({ msl: '3', lengthMm: 15, widthMm: 14, thicknessMm: 1.7, bga: true });
    expect(moisturePart({ ...part, moistureBarrier: true })).toMatchObject({ moistureBarrier: true });
  });
});
