/** The parts of a unit's page; the address names the one that is shown. */
export const UNIT_PARTS = [
  { part: 'sites', title: 'Sites and devices' },
  { part: 'budgets', title: 'Budgets' },
  { part: 'moisture', title: 'Moisture' },
  { part: 'route', title: 'Route' },
  { part: 'heats', title: 'Heats' },
  { part: 'ledger', title: 'Ledger' },
  { part: 'downloads', title: 'Downloads' },
] as const;

export type UnitPart = (typeof UNIT_PARTS)[number]['part'];

/** The part that an address names; without one, or with one that there is not, the first. */
export function partOf(params: URLSearchParams): UnitPart {
  return UNIT_PARTS.find(({ part }) => part === params.get('part'))?.part ?? UNIT_PARTS[0].part;
}

/** Addresses of a unit's parts, and of one of its sites. @param unit path of the unit's page */
export function partPath(unit: string, part: UnitPart, site?: string): string {
  const params = new URLSearchParams({ part, ...(site !== undefined && { site }) });
  return `${unit}?${params.toString()}`;
}
