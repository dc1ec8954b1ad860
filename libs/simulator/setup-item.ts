import { SetupData, SetupKind } from '../domain/setup/setup-data.js';

/** One setup record to enter; a profile's name is `{profile}@{revision}`. */
export type SetupItem = {
  [K in SetupKind]: { readonly kind: K; readonly name: string; readonly body: SetupData[K] };
}[SetupKind];

export function setupItems<K extends SetupKind>(
  kind: K,
  bodies: Readonly<Record<string, SetupData[K]>>,
): { kind: K; name: string; body: SetupData[K] }[] {
  return Object.entries(bodies).map(([name, body]) => ({ kind, name, body }));
}
