import { Alloy, alloyNamed } from './alloys.js';

/** Solidus C, liquidus C, density g/cm3, and where they come from. */
const PUBLISHED: readonly (readonly [
  name: string,
  solidusC: number,
  liquidusC: number,
  density: number,
  source: string,
])[] = [
  ['Sn63Pb37', 183, 183, 8.4, "solder makers' data sheets"],
  ['Sn60Pb40', 183, 191, 8.5, "solder makers' data sheets (another source gives a liquidus of 188)"],
  ['Sn62Pb36Ag2', 179, 179, 8.41, "solder makers' data sheets"],
  ['SAC305', 217, 220, 7.38, "solder makers' data sheets"],
  ['SAC405', 217, 220, 7.44, "solder makers' data sheets"],
  ['SAC387', 217, 220, 7.44, "solder makers' data sheets"],
  ['SAC105', 215, 227, 7.32, "solder makers' data sheets"],
  ['Sn99.3Cu0.7Ni', 227, 227, 7.4, "solder makers' data sheets"],
  ['Sn96.5Ag3.5', 221, 221, 7.37, "solder makers' data sheets"],
  ['Sn42Bi58', 138, 138, 8.56, "solder makers' data sheets; the density from memory"],
  ['Sn42Bi57Ag1', 138, 140, 8.57, 'from memory'],
];

describe('solder alloys', () => {
  it.each(PUBLISHED)('%s melts from %d to %d C and weighs %d g/cm3 (%s)', (name, solidusC, liquidusC, density) => {
    expect(alloyNamed(name)).toEqual<Alloy>({ solidusC, liquidusC, densityGPerCm3: density });
  });

  it('do not include what no alloy is called, nor what every object has', () => {
    expect(['SAC', 'sac305', 'constructor', '__proto__', 'toString', ''].map(alloyNamed)).toEqual(
      Array(6).fill(undefined),
    );
  });
});
