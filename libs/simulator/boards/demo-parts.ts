import { PartData } from '../../domain/setup/setup-data.js';

/** Invented packages; sizes in mm. */
export const DEMO_PARTS: Readonly<Record<string, PartData>> = {
  'P-BGA484': { lengthMm: 23, widthMm: 23, thicknessMm: 1.9, msl: '3', ballAlloy: 'SAC305' },
  'P-BGA324': { lengthMm: 19, widthMm: 19, thicknessMm: 1.7, msl: '3', ballAlloy: 'SAC305' },
  'P-BGA256': { lengthMm: 17, widthMm: 17, thicknessMm: 1.6, msl: '3', ballAlloy: 'SAC305' },
  'P-RAM96': { lengthMm: 14, widthMm: 8, thicknessMm: 1.2, msl: '3', ballAlloy: 'SAC305', maxExcursions: 2 },
  'P-CSP81': { lengthMm: 6, widthMm: 6, thicknessMm: 0.9, msl: '2a', ballAlloy: 'SAC305' },
  'P-BGA352L': { lengthMm: 27, widthMm: 27, thicknessMm: 2.1, msl: '3', ballAlloy: 'Sn63Pb37' },
  'P-BGA144L': { lengthMm: 13, widthMm: 13, thicknessMm: 1.4, msl: '2a', ballAlloy: 'Sn63Pb37' },
};
