import { isBroken, measuredScale, placeOn } from './hold-scale.js';
import { bareHold, causeWith, entryWith } from './spec-support/bare-hold.js';

describe('A measured figure beside its limit', () => {
  it('is read of flatness, by the pitch that governed', () => {
    const summary =
      'U3 is not flat enough: point 4 lies 0.096 mm below the seating plane; 0.08 mm are allowed at 0.5 mm pitch (least squares: 0.096 mm).';
    const scale = measuredScale(bareHold({ reason: 'flatness-max', evidence: { summary, unit: 'mm' } }));
    expect(scale).toMatchObject({ values: [{ figure: 0.096 }], limit: 0.08, unit: 'mm', isLeast: false });
  });

  it('lies under its limit where copper is short, beside what there was', () => {
    const summary =
      'The pads of U1 have 6.6 um of copper left of 35 um by estimate (rates: assumed), where 10 um is the least.';
    const scale = measuredScale(bareHold({ reason: 'pad-copper-min', evidence: { summary, allowed: 10, unit: 'um' } }));
    expect(scale).toMatchObject({ values: [{ figure: 6.6 }, { figure: 35 }], limit: 10, isLeast: true });
    expect(scale && isBroken(scale, 6.6)).toBe(true);
    expect(scale && isBroken(scale, 35)).toBe(false);
  });

  it('is a share of the floor life', () => {
    const summary = 'Device N-1 was heated after its floor life: its floor life was used up 163 % by told exposure.';
    const scale = measuredScale(bareHold({ reason: 'floor-life', evidence: { summary, allowed: 1 } }));
    expect(scale).toMatchObject({ values: [{ figure: 1.63 }], limit: 1 });
  });

  it('is every joint of an X-ray, the worst first', () => {
    const voids = [
      { joint: 'A1', fraction: 0.12 },
      { joint: 'B7', fraction: 0.41 },
    ];
    const hold = bareHold({
      reason: 'void-fraction-max',
      evidence: { summary: 'Joints with more than 0.3 of their area void: 1 of 2.', allowed: 0.3 },
      causes: [causeWith(entryWith({ data: { voids } }), entryWith({ subject: 'devices/K-1', data: {} }))],
    });
    expect(measuredScale(hold)?.values.map(({ name }) => name)).toEqual(['B7', 'A1']);
  });

  it('is the body readings against the class temperature, on a scale near it', () => {
    const thermocouples = [
      { id: 'T1', position: 'joint', peakC: 280 },
      { id: 'T2', position: 'body', peakC: 256 },
    ];
    const hold = bareHold({
      reason: 'body-peak-max',
      evidence: {
        summary: 'The body of device K-1 got hotter than its class temperature of 245 C (size: row; J-STD-020).',
        allowed: 5,
      },
      causes: [causeWith(entryWith({ data: { heat: { thermocouples } } }))],
    });
    const scale = measuredScale(hold);
    expect(scale).toMatchObject({ values: [{ name: 'T2', figure: 256 }], limit: 250, unit: 'C' });
    expect(scale?.fromTo[0]).toBe(190);
    expect(scale && placeOn(scale, 190)).toBe(0);
  });

  it('is none for what is counted, nor where the words tell no figure', () => {
    expect(measuredScale(bareHold({ reason: 'device-excursions' }))).toBeNull();
    expect(measuredScale(bareHold({ reason: 'flatness-max', evidence: { summary: 'not flat' } }))).toBeNull();
  });
});
