/** Melting range of a solder, C, and its density. */
export interface Alloy {
  readonly solidusC: number;
  readonly liquidusC: number;
  readonly densityGPerCm3: number;
}

/**
 * Solders the house knows. Solidus, liquidus and density from solder makers' published data sheets, except where noted.
 * The last row, the density of Sn42Bi58 and Sn99.3Cu0.7 are from memory.
 */
const ALLOYS: Readonly<Record<string, Alloy>> = {
  Sn63Pb37: { solidusC: 183, liquidusC: 183, densityGPerCm3: 8.4 },
  Sn60Pb40: { solidusC: 183, liquidusC: 191, densityGPerCm3: 8.5 },
  Sn62Pb36Ag2: { solidusC: 179, liquidusC: 179, densityGPerCm3: 8.41 },
  SAC305: { solidusC: 217, liquidusC: 220, densityGPerCm3: 7.38 },
  SAC405: { solidusC: 217, liquidusC: 220, densityGPerCm3: 7.44 },
  SAC387: { solidusC: 217, liquidusC: 220, densityGPerCm3: 7.44 },
  SAC105: { solidusC: 215, liquidusC: 227, densityGPerCm3: 7.32 },
  'Sn99.3Cu0.7': { solidusC: 227, liquidusC: 227, densityGPerCm3: 7.31 },
  'Sn99.3Cu0.7Ni': { solidusC: 227, liquidusC: 227, densityGPerCm3: 7.4 },
  'Sn96.5Ag3.5': { solidusC: 221, liquidusC: 221, densityGPerCm3: 7.37 },
  Sn42Bi58: { solidusC: 138, liquidusC: 138, densityGPerCm3: 8.56 },
  Sn42Bi57Ag1: { solidusC: 138, liquidusC: 140, densityGPerCm3: 8.57 },
};

export const ALLOY_NAMES: readonly string[] = Object.keys(ALLOYS);

export function alloyNamed(name: string): Alloy | undefined {
  return Object.hasOwn(ALLOYS, name) ? ALLOYS[name] : undefined;
}

/** Whether a solder has lead in it, by its name. */
export function isLeaded(alloy: string): boolean {
  return alloy.includes('Pb');
}
