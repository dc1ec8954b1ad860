import { isClearedType, PlannedStep } from '../domain/clearance/clearance.js';
import { StationCloudEvent } from './station-cloud-event.js';

/** What a bench knew beforehand of a step that it did. @throws Error for one that no clearance is about */
export function plannedStep({ type, data }: StationCloudEvent): PlannedStep {
  if (!isClearedType(type)) throw new Error(`${type} is not planned`);
  const members = Object.entries(data).filter(([name]) => isPlanned(name) || (name === 'device' && isPlacement(type)));
  // Members of a step are called as those of the event that it becomes.
  return { type, ...Object.fromEntries(members) };
}

function isPlacement(type: StationCloudEvent['type']): boolean {
  return type === 'heatbook.device.placed.v1';
}

const PLANNED: readonly (keyof PlannedStep)[] = [
  ...(['refdes', 'method', 'profile', 'fate', 'purpose', 'side', 'part', 'passes', 'contactSeconds'] as const),
  ...(['solderC', 'solderAlloy', 'ballAlloy', 'ballDiameterMm', 'attach', 'pasteAlloy', 'pasteVolumeMm3'] as const),
];

function isPlanned(name: string): boolean {
  return PLANNED.some((planned) => planned === name);
}
