import fc from 'fast-check';
import { closedJointLoss } from './closed-joint-loss.js';

const SAC = { solderAlloy: 'SAC305' } as const;

function lostUm(joint: Parameters<typeof closedJointLoss>[0]): number {
  const loss = closedJointLoss(joint);
  if (loss.kind === 'unknown') throw new Error(loss.detail);
  return loss.lostUm;
}

describe('copper that a closed joint takes', () => {
  // Computed; solubility 1.3 wt% at 250 C, 1.1 at 240 C and 0.5 in fresh SAC305 are from memory.
  it.each([
    [0.6, 0.45, 250, '4.69'],
    [0.6, 0.45, 240, '3.51'],
    [0.45, 0.35, 250, '3.27'],
    [0.45, 0.35, 240, '2.45'],
    [0.3, 0.25, 250, '1.90'],
    [0.3, 0.25, 240, '1.42'],
  ])(
    'ends at saturation: ball %d mm on pad %d mm at %d C, %s um',
    (ballDiameterMm, padDiameterMm, solderC, expected) => {
      expect(lostUm({ ...SAC, ballDiameterMm, padDiameterMm, solderC }).toFixed(2)).toBe(expected);
    },
  );

  it('ends earlier where the heat was too short to saturate it', () => {
    const joint = { ...SAC, ballDiameterMm: 0.6, padDiameterMm: 0.45, solderC: 250 };
    // Still SAC305 at 250 C takes 0.1544 um/s (computed from the assumed model).
    expect(closedJointLoss({ ...joint, moltenSeconds: 10 })).toMatchObject({ limitedBy: 'time' });
    expect(lostUm({ ...joint, moltenSeconds: 10 })).toBeCloseTo(1.544, 3);
    expect(closedJointLoss({ ...joint, moltenSeconds: 60 })).toMatchObject({ limitedBy: 'saturation' });
  });

  it('gives no figure for solder whose solubility nobody stated, or that is solid', () => {
    const joint = { ballDiameterMm: 0.6, padDiameterMm: 0.45, solderC: 230 };
    expect(closedJointLoss({ ...joint, solderAlloy: 'Sn63Pb37' })).toMatchObject({ kind: 'unknown' });
    expect(closedJointLoss({ ...joint, solderAlloy: 'SAC305', solderC: 200 })).toMatchObject({ problem: 'not-molten' });
    expect(() => closedJointLoss({ ...joint, solderAlloy: 'SAC305', padDiameterMm: 0 })).toThrow(RangeError);
    expect(() => closedJointLoss({ ...joint, solderAlloy: 'SAC105', moltenSeconds: -1 })).toThrow(RangeError);
  });

  it('grows with temperature and with time, and never beyond its cap', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        number(217, 300),
        number(0, 30),
        number(0, 300),
        number(0, 100),
        (solderC, hotter, seconds, longer) => {
          const joint = { ...SAC, ballDiameterMm: 0.5, padDiameterMm: 0.4, solderC, moltenSeconds: seconds };
          const loss = lostUm(joint);
          expect(loss).toBeGreaterThanOrEqual(0);
          expect(loss).toBeLessThanOrEqual(lostUm({ ...joint, moltenSeconds: undefined }));
          expect(lostUm({ ...joint, solderC: solderC + hotter })).toBeGreaterThanOrEqual(loss);
          expect(lostUm({ ...joint, moltenSeconds: seconds + longer })).toBeGreaterThanOrEqual(loss);
        },
      ),
    );
  });
});
