import { Knot, ROOM_C } from '../../../../libs/simulator/traces/heat-curve.js';
import { LoggedHeat, Logger } from '../../../../libs/simulator/traces/logged-heat.js';

const PLAIN: Logger = { perSecond: 5, time: 'seconds' };

function hotGas(soakC: number, topC: number): readonly Knot[] {
  return [
    [0, ROOM_C],
    [5, ROOM_C],
    [85, soakC - 35],
    [165, soakC],
    [210, topC],
    [242, topC],
    [330, 60],
    [400, 35],
  ];
}

/** A warmed board, then so many dabs of a blade on its site. */
function dabs(count: number): readonly Knot[] {
  const warm: Knot[] = [
    [0, ROOM_C],
    [120, 110],
  ];
  const each = Array.from({ length: count }, (_, dab): Knot[] => [
    [132 + dab * 20, 112],
    [136 + dab * 20, 320],
    [141 + dab * 20, 320],
    [146 + dab * 20, 115],
  ]);
  return [...warm, ...each.flat(), [150 + count * 20, 100], [240 + count * 20, 45]];
}

const BATH: readonly Knot[] = [
  [0, ROOM_C],
  [90, 140],
  [100, 255],
  [128, 255],
  [136, 150],
  [260, 40],
];

const OVEN: readonly Knot[] = [
  [0, ROOM_C],
  [70, 150],
  [165, 195],
  [215, 255],
  [245, 255],
  [330, 70],
  [380, 45],
];

/**
 * Twelve invented heats, one of each kind of work. The peaks are common practice, without a source: a die stays near
 * 150 C under a braid, and reaches about 217 to 230 C over a solder fountain.
 */
export const DEMO_HEATS: readonly LoggedHeat[] = [
  {
    name: 'removal-sac305',
    alloy: 'SAC305',
    drive: hotGas(190, 262),
    beads: [
      { name: 'Joint', position: 'joint', lagS: 9, peakC: 235.4 },
      { name: 'Die', position: 'die', lagS: 6, peakC: 241.2 },
      { name: 'Board', position: 'board', lagS: 16, peakC: 188 },
    ],
    logger: PLAIN,
  },
  {
    name: 'placement-sac305',
    alloy: 'SAC305',
    drive: hotGas(188, 260),
    beads: [
      { name: 'Joint centre', position: 'joint', lagS: 11, peakC: 233.1 },
      { name: 'Joint corner', position: 'joint', lagS: 8, peakC: 238.6 },
      { name: 'Body', position: 'body', lagS: 5, peakC: 243.9 },
    ],
    logger: PLAIN,
  },
  {
    name: 'removal-snpb',
    alloy: 'Sn63Pb37',
    drive: hotGas(150, 228),
    beads: [
      { name: 'Joint', position: 'joint', lagS: 9, peakC: 206.3 },
      { name: 'Die', position: 'die', lagS: 6, peakC: 210.8 },
    ],
    logger: { perSecond: 5, time: 'seconds', decimals: 'comma' },
  },
  {
    name: 'placement-snpb',
    alloy: 'Sn63Pb37',
    drive: hotGas(148, 226),
    beads: [
      { name: 'Joint', position: 'joint', lagS: 10, peakC: 207.5 },
      { name: 'Body', position: 'body', lagS: 6, peakC: 212 },
      { name: 'Board', position: 'board', lagS: 17, peakC: 155 },
    ],
    logger: { perSecond: 2, time: 'clock' },
  },
  {
    name: 'braid-deballing-sac305',
    alloy: 'SAC305',
    drive: dabs(6),
    beads: [
      { name: 'Balls', position: 'joint', lagS: 3, peakC: 244 },
      { name: 'Die', position: 'die', lagS: 45, peakC: 150.2 },
    ],
    logger: PLAIN,
  },
  {
    name: 'braid-dressing-snpb',
    alloy: 'Sn63Pb37',
    drive: dabs(5),
    beads: [
      { name: 'Pads', position: 'joint', lagS: 3, peakC: 214 },
      { name: 'Board', position: 'board', lagS: 60, peakC: 118 },
    ],
    logger: PLAIN,
  },
  {
    name: 'vacuum-dressing-sac305',
    alloy: 'SAC305',
    drive: dabs(10),
    beads: [
      { name: 'Pads', position: 'joint', lagS: 3.5, peakC: 238 },
      { name: 'Board', position: 'board', lagS: 50, peakC: 152 },
    ],
    logger: PLAIN,
  },
  {
    name: 'fountain-deballing-sac305',
    alloy: 'SAC305',
    drive: BATH,
    beads: [
      { name: 'Die', position: 'die', lagS: 7, peakC: 229.4 },
      { name: 'Body', position: 'body', lagS: 10, peakC: 217.8 },
    ],
    logger: PLAIN,
  },
  {
    name: 'coupon-dressing-sac305',
    alloy: 'SAC305',
    drive: hotGas(185, 258),
    beads: [
      { name: 'Pads', position: 'joint', lagS: 10, peakC: 236.2 },
      { name: 'Board', position: 'board', lagS: 18, peakC: 171 },
    ],
    logger: PLAIN,
  },
  {
    name: 'oven-pass-sac305',
    alloy: 'SAC305',
    drive: OVEN,
    beads: [
      { name: 'TC1', position: 'joint', lagS: 9, peakC: 238.8 },
      { name: 'TC2', position: 'joint', lagS: 12, peakC: 235.1 },
      { name: 'TC3', position: 'body', lagS: 10, peakC: 240.6 },
      { name: 'TC4', position: 'board', lagS: 7, peakC: 243.3 },
      { name: 'TC5', position: 'air', lagS: 3, peakC: 249 },
      { name: 'TC6', position: 'board', lagS: 9, peakC: 240, fault: 'not-connected' },
    ],
    logger: { perSecond: 5, time: 'clock' },
  },
  {
    name: 'reballing-sac305',
    alloy: 'SAC305',
    drive: hotGas(180, 256),
    beads: [
      { name: 'Balls', position: 'joint', lagS: 8, peakC: 237.3 },
      { name: 'Die', position: 'die', lagS: 7, peakC: 239.6 },
    ],
    logger: { perSecond: 5, time: 'seconds', coldJunctionC: 25 },
  },
  {
    name: 'touch-up-sac305',
    alloy: 'SAC305',
    drive: hotGas(182, 255),
    beads: [
      { name: 'Joint', position: 'joint', lagS: 9, peakC: 232.7, fault: 'dropout' },
      { name: 'Body', position: 'body', lagS: 6, peakC: 236.5 },
    ],
    logger: { perSecond: 5, time: 'whole-seconds' },
  },
];
