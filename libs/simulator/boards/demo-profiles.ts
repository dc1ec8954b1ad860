import { AssemblyDesign, ProfileData, ProfileWindow, SiteDesign } from '../../domain/setup/setup-data.js';
import { DEMO_ASSEMBLIES } from './demo-assemblies.js';

const WINDOWS: Readonly<Record<string, ProfileWindow>> = {
  SAC305: {
    peakMinC: 230,
    peakMaxC: 245,
    aboveLiquidusMinS: 45,
    aboveLiquidusMaxS: 90,
    riseMaxCPerS: 3,
    fallMaxCPerS: 4,
  },
  Sn63Pb37: {
    peakMinC: 200,
    peakMaxC: 220,
    aboveLiquidusMinS: 45,
    aboveLiquidusMaxS: 90,
    riseMaxCPerS: 3,
    fallMaxCPerS: 4,
  },
};

/** Removal, placement, solder fountain and copper coupon. */
const PURPOSES = { OFF: 'removal', ON: 'placement', FNT: 'fountain', CPN: 'coupon' } as const;
export type ProfilePurpose = keyof typeof PURPOSES;

/**
 * Where a profile was qualified with another neighbour peak than its distance would suggest, C. U3 is so close to U4
 * that taking U4 off melts it; the nozzle for putting one on is narrower.
 */
const CLOSE: Readonly<Record<string, number>> = { 'ZIB-PANEL-1-U4-OFF U3': 214, 'ZIB-PANEL-1-U4-ON U3': 206 };

/** The alloy that a profile melts: what is there for taking off, what the new device brings for putting on. */
export function profileAlloy(site: SiteDesign, purpose: ProfilePurpose): string {
  return purpose === 'OFF' || site.part.endsWith('L') ? site.jointAlloy : 'SAC305';
}

function coolPeakC(gapMm: number, hottest: string): number {
  const near = gapMm < 2 ? 190 : gapMm < 4 ? 172 : 158;
  return hottest === 'SAC305' ? near : near - 35;
}

function profile(
  assembly: string,
  design: AssemblyDesign,
  site: SiteDesign,
  purpose: ProfilePurpose,
): [string, ProfileData] {
  const name = `${assembly}-${site.refdes}-${purpose}`;
  const alloy = profileAlloy(site, purpose);
  const neighbourPeaks = site.neighbours.map(({ refdes, gapMm }) => {
    const joint = design.sites.find((other) => other.refdes === refdes)?.jointAlloy ?? alloy;
    return { refdes, peakC: CLOSE[`${name} ${refdes}`] ?? coolPeakC(gapMm, joint) };
  });
  const window = purpose === 'ON' ? WINDOWS[alloy] : undefined;
  const body: ProfileData = {
    purpose: PURPOSES[purpose],
    alloy,
    assembly,
    site: site.refdes,
    qualifiedAt: '2025-11-18T10:00:00+01:00',
    neighbourPeaks,
    ...(window && { window }),
  };
  return [`${name}@B`, body];
}

/** Revision B of every profile, and an older revision A that was qualified before anybody looked at all neighbours. */
export function demoProfiles(): readonly (readonly [string, ProfileData])[] {
  const current = Object.entries(DEMO_ASSEMBLIES).flatMap(([assembly, design]) =>
    design.sites.flatMap((site) =>
      (['OFF', 'ON', 'FNT', 'CPN'] as const).map((purpose) => profile(assembly, design, site, purpose)),
    ),
  );
  const older: ProfileData = {
    purpose: PURPOSES.OFF,
    alloy: 'SAC305',
    assembly: 'ZIB-PANEL-1',
    site: 'U1',
    qualifiedAt: '2024-05-06T10:00:00+02:00',
    neighbourPeaks: [{ refdes: 'U4', peakC: 158 }],
  };
  const oven: ProfileData = {
    purpose: 'whole-board reflow',
    alloy: 'SAC305',
    assembly: 'ZIB-PANEL-1',
    qualifiedAt: '2025-11-18T10:00:00+01:00',
    neighbourPeaks: [],
  };
  return [['ZIB-PANEL-1-U1-OFF@A', older], ['ZIB-PANEL-1-OVEN@A', oven], ...current];
}
