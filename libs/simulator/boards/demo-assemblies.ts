import { AssemblyDesign, Side, SiteDesign } from '../../domain/setup/setup-data.js';

interface Land {
  readonly pads: number;
  readonly padDiameterMm: number;
  readonly ballPitchMm: number;
  readonly ballDiameterMm: number;
}

const LANDS: Readonly<Record<string, Land>> = {
  'P-BGA484': { pads: 484, padDiameterMm: 0.45, ballPitchMm: 1, ballDiameterMm: 0.6 },
  'P-BGA324': { pads: 324, padDiameterMm: 0.45, ballPitchMm: 1, ballDiameterMm: 0.6 },
  'P-BGA256': { pads: 256, padDiameterMm: 0.45, ballPitchMm: 1, ballDiameterMm: 0.6 },
  'P-RAM96': { pads: 96, padDiameterMm: 0.35, ballPitchMm: 0.8, ballDiameterMm: 0.45 },
  'P-CSP81': { pads: 81, padDiameterMm: 0.25, ballPitchMm: 0.5, ballDiameterMm: 0.3 },
  'P-BGA352L': { pads: 352, padDiameterMm: 0.6, ballPitchMm: 1.27, ballDiameterMm: 0.76 },
  'P-BGA144L': { pads: 144, padDiameterMm: 0.4, ballPitchMm: 0.8, ballDiameterMm: 0.5 },
};

interface Look {
  readonly finish: SiteDesign['finish'];
  readonly jointAlloy: string;
}

/** `gaps`: neighbour to the free distance from it, mm; for one on the other side, through the board. */
function site(
  refdes: string,
  part: string,
  look: Look,
  [xMm, yMm]: readonly [number, number],
  gaps: Readonly<Record<string, number>>,
  side: Side = 'top',
): SiteDesign {
  const land = LANDS[part];
  if (land === undefined) throw new Error(`no land pattern for ${part}`);
  const neighbours = Object.entries(gaps).map(([name, gapMm]) => ({ refdes: name, gapMm }));
  return { refdes, part, side, ...land, padCopperUm: 35, ...look, xMm, yMm, neighbours };
}

const sac: Look = { finish: 'osp', jointAlloy: 'SAC305' };
const leaded: Look = { finish: 'hasl', jointAlloy: 'Sn63Pb37' };

/** Invented boards of invented customers. */
export const DEMO_ASSEMBLIES: Readonly<Record<string, AssemblyDesign>> = {
  'ZIB-PANEL-1': {
    customer: 'Zibbleford',
    description: 'Operator panel, one side, lead-free',
    leadFree: true,
    assemblyReflows: 1,
    sites: [
      site('U1', 'P-BGA256', sac, [42, 35], { U2: 3.2, U3: 4.1, U4: 8.5 }),
      site('U2', 'P-RAM96', sac, [60.7, 35], { U1: 3.2 }),
      site('U3', 'P-CSP81', sac, [42, 50.6], { U1: 4.1, U4: 0.9 }),
      site('U4', 'P-CSP81', sac, [48.9, 50.6], { U3: 0.9, U1: 8.5 }),
    ],
  },
  'ZIB-CORE-2': {
    customer: 'Zibbleford',
    description: 'Processor module, both sides, lead-free; the bottom was soldered first',
    leadFree: true,
    assemblyReflows: { top: 1, bottom: 2 },
    sites: [
      site('U1', 'P-BGA484', sac, [50, 40], { U2: 3.1, U11: 1.6 }),
      site('U2', 'P-RAM96', sac, [68.6, 40], { U1: 3.1, U3: 2.4 }),
      site('U3', 'P-RAM96', sac, [79, 40], { U2: 2.4 }),
      site('U11', 'P-CSP81', sac, [50, 40], { U1: 1.6, U12: 6 }, 'bottom'),
      site('U12', 'P-RAM96', sac, [66, 40], { U11: 6 }, 'bottom'),
    ],
  },
  'QRN-DRIVE-3': {
    customer: 'Quorndle',
    description: 'Motor drive of an older series, one side, leaded',
    leadFree: false,
    assemblyReflows: 1,
    sites: [
      site('U1', 'P-BGA352L', leaded, [38, 44], { U2: 5.2, U3: 6.4 }),
      site('U2', 'P-BGA144L', leaded, [63.2, 44], { U1: 5.2, U4: 3.8 }),
      site('U3', 'P-BGA144L', leaded, [38, 70.4], { U1: 6.4 }),
      site('U4', 'P-BGA144L', leaded, [80, 44], { U2: 3.8 }),
    ],
  },
  'MRK-LINK-4': {
    customer: 'Mirklewood',
    description: 'Radio link, lead-free but for U1, which is being converted',
    leadFree: true,
    assemblyReflows: 1,
    sites: [
      site('U1', 'P-BGA324', leaded, [45, 45], { U2: 4.4, U3: 4.8 }),
      site('U2', 'P-RAM96', sac, [62.9, 45], { U1: 4.4 }),
      site('U3', 'P-BGA256', sac, [45, 67.8], { U1: 4.8, U4: 5.5 }),
      site('U4', 'P-CSP81', sac, [62, 67.8], { U3: 5.5 }),
    ],
  },
};
