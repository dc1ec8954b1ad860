import { refusalReasons } from './refusal-reasons.js';

describe('Reasons of a refusal', () => {
  it('are read with their figures, what was asked included', () => {
    const reason = {
      code: 'device-excursions',
      subject: { kind: 'device', device: 'K-1' },
      detail: 'd',
      remedy: 'r',
      ...{ used: 2, reserved: 1, asked: 1, allowed: 3 },
    };
    expect(refusalReasons({ reasons: [reason] })).toEqual([
      {
        code: 'device-excursions',
        subject: { kind: 'device', device: 'K-1' },
        detail: 'd',
        remedy: 'r',
        figures: { used: 2, reserved: 2, allowed: 3 },
      },
    ]);
  });

  it('have figures only where they count something, and a hold only where there is one', () => {
    const [reason] = refusalReasons({ reasons: [{ code: 'floor-life', allowed: 1, hold: 'h-1' }] });
    expect(reason).toMatchObject({ code: 'floor-life', hold: 'h-1' });
    expect(reason?.figures).toBeUndefined();
  });

  it('are none in a problem of another kind', () => {
    for (const members of [{}, { reasons: 'x' }, { reasons: [null, 7] }]) expect(refusalReasons(members)).toEqual([]);
  });
});
