import {
  deviceIn,
  dressed,
  heat,
  inspected,
  placed,
  received,
  removed,
  Said,
  shipped,
} from '../../support/small-shop.js';

/** Peaks of thermocouples as a rework station sums them up: joint and top of the device, a neighbour, the board below. */
function measured(jointPeakC: number): object {
  const base = { liquidusC: 217, uncertaintyC: 2.2 };
  return heat(
    { ...base, refdes: 'U7', position: 'joint', peakC: jointPeakC, secondsAboveLiquidus: 58, maxRiseCPerS: 1.7 },
    { ...base, refdes: 'U7', position: 'body', peakC: jointPeakC + 6.5, maxRiseCPerS: 1.9, maxFallCPerS: -2.4 },
    { ...base, refdes: 'U8', position: 'board', peakC: 168.5, maxRiseCPerS: 1.1 },
    { ...base, position: 'board', peakC: 151.2, maxRiseCPerS: 0.9 },
  );
}

/** Everything that replacing the device on U7 takes, well done, told as fully as stations tell it. */
export function lineJob(device: string): Said[] {
  return [
    received({
      devices: [{ refdes: 'U7', device: `${device}-OLD`, priorExcursions: 1 }],
      complaint: 'no boot, U7 suspect',
    }),
    {
      type: 'heatbook.unit.baked.v1',
      data: {
        temperatureC: 125,
        relativeHumidityPct: 4,
        startedAt: '2026-03-31T06:00:00Z',
        endedAt: '2026-04-01T06:00:00Z',
        operator: 'ann',
      },
    },
    removed({ device: `${device}-OLD`, heat: measured(236.5), note: 'lifted without force' }),
    dressed({ lots: { flux: 'F-2207' } }),
    { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U7', agent: 'isopropanol', operator: 'ann' } },
    inspected({ technique: 'visual', note: 'pads level, mask whole' }),
    deviceIn(device),
    placed(device, { heat: measured(238), lots: { flux: 'F-2207', solder: 'S-118' } }),
    inspected({ note: 'no bridge, collapse even' }),
    shipped(),
  ];
}
