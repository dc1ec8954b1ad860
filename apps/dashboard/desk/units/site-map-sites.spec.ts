import type { Budget } from './budget-words.js';
import { mapSites } from './site-map-sites.js';

const pattern = { pads: 81, padDiameterMm: 0.25, padCopperUm: 35, finish: 'osp', jointAlloy: 'SAC305' } as const;
const place = { ...pattern, side: 'top', xMm: 0, yMm: 0, ballPitchMm: 0.5, ballDiameterMm: 0.3, part: 'P' } as const;
const design = {
  sites: [
    { ...place, refdes: 'U1' },
    { ...place, refdes: 'U2' },
  ],
};

function budget(subject: Budget['subject'], limit: Budget['limit'], used: number): Budget {
  const inputs = { prior: { count: used, basis: 'declared' }, measured: 0, declared: 0, inferred: 0 } as const;
  const figures = { used, possible: 0, reserved: 0, allowed: 3, remaining: 3 - used, basis: 'declared' } as const;
  return { subject, limit, ...figures, inputs, rule: null };
}

const site = (refdes: string) => ({ kind: 'site', assembly: 'A', serial: '1', refdes }) as const;

const unit = {
  sites: [
    { refdes: 'U1', device: 'D-1' },
    { refdes: 'U2', device: null },
  ],
  budgets: [
    budget({ kind: 'device', device: 'D-1' }, 'device-excursions', 4),
    budget(site('U1'), 'site-excursions', 1),
    budget(site('U2'), 'site-excursions', 2),
  ],
  holds: [{ subject: { kind: 'device' as const, device: 'D-1' } }],
};

describe('A site on the map', () => {
  const [u1, u2] = mapSites(unit, design, new Map([['P', { lengthMm: 14, widthMm: 8 }]]));

  it('shows what its device has seen, and, where it is bare, what the site has', () => {
    expect(u1?.words).toBe('U1, D-1: 4 excursions, 1 over the 3 allowed; held');
    expect(u2?.words).toBe('U2, no device: 2 excursions, 1 of 3 left for the site');
  });

  it('is held where it or the device on it is', () => {
    expect([u1?.held, u2?.held]).toEqual([true, false]);
  });

  it('has the size of its part, or that of its pads where no part says it', () => {
    expect([u1?.lengthMm, u1?.widthMm]).toEqual([14, 8]);
    expect(mapSites(unit, design, new Map())[0]?.lengthMm).toBe(4.5);
  });
});
