import { planWish, stepsToClear, unitNamed, unitsFound, wishInAddress } from './plan-wish.js';

describe('The wish for a plan', () => {
  it('stands in the address, and comes back from it', () => {
    const wish = { assembly: 'A-1', serial: '7', refdes: 'U7', goal: 'reuse-device', device: 'K-1' } as const;
    expect(planWish(wishInAddress(wish))).toEqual(wish);
    expect(planWish(new URLSearchParams())).toEqual({
      assembly: '',
      serial: '',
      refdes: '',
      goal: 'new-device',
      device: '',
    });
    expect(planWish(new URLSearchParams('goal=anything')).goal).toBe('new-device');
  });

  it.each([
    ['0103', { serial: '0103' }],
    [' ZIB-PANEL-1/0103 ', { assembly: 'ZIB-PANEL-1', serial: '0103' }],
    ['ZIB-PANEL-1 0103', { assembly: 'ZIB-PANEL-1', serial: '0103' }],
    ['ZIB-PANEL-1/', { serial: 'ZIB-PANEL-1' }],
    ['', { serial: '' }],
  ])('reads "%s" as a unit', (text, unit) => {
    expect(unitNamed(text)).toEqual(unit);
  });

  it('takes the units that a scan found, or else the boards of the devices', () => {
    const unit = { kind: 'unit', name: 'A/7', assembly: 'A', serial: '7', state: 'in-house', customer: 'Q' } as const;
    const device = {
      kind: 'device',
      name: 'K-1',
      device: 'K-1',
      state: 'mounted',
      assembly: 'B',
      serial: '8',
    } as const;
    const loose = { kind: 'device', name: 'K-2', device: 'K-2', state: 'loose' } as const;
    expect(unitsFound([device, unit])).toEqual([{ assembly: 'A', serial: '7', state: 'in-house', customer: 'Q' }]);
    expect(unitsFound([loose, device, { ...device, name: 'K-3' }])).toEqual([{ assembly: 'B', serial: '8' }]);
    expect(unitsFound([loose])).toEqual([]);
  });

  it('names the device in the placement, and nowhere else', () => {
    const spends = { siteReworks: 0, siteDressings: 0, siteExcursions: 1, deviceExcursions: 1 } as const;
    const step = { skill: 'removal', refdes: 'U7', spends, spreads: true, minutes: 12, why: '' };
    const steps = stepsToClear(
      [
        { ...step, type: 'heatbook.device.removed.v1', fate: 'scrap' },
        { ...step, type: 'heatbook.device.placed.v1' },
      ],
      'N-7',
    );
    expect(steps).toEqual([
      { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap' },
      { type: 'heatbook.device.placed.v1', refdes: 'U7', device: 'N-7' },
    ]);
  });
});
