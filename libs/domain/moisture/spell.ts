import { Bake } from './bake.js';
import { AirColumns } from './floor-life.js';

export type Storage = 'open' | 'dry-cabinet' | 'dry-pack';

/**
 * Air that a part lies in, as columns of the derating table. `assumed`: the station told the storage, but not both
 * figures; `unsaid`: nobody told where it lay.
 */
export interface Air extends AirColumns {
  readonly told: 'declared' | 'assumed' | 'unsaid';
  readonly outOfRange: boolean;
}

/** A stretch of time that lasts until the next spell begins. `from` is a normalised time. */
export type Spell =
  /** Nobody said where it lay. */
  | { readonly kind: 'unsaid'; readonly from: string }
  | { readonly kind: 'sealed'; readonly from: string }
  | { readonly kind: 'air'; readonly from: string; readonly storage: Storage; readonly air: Air }
  | { readonly kind: 'baked'; readonly from: string; readonly bake: Bake }
  | GatheredSpells;

/** Old spells put together, their order within lost. `ms` by column; at most 4 x 10 x 2 entries. */
export interface GatheredSpells {
  readonly kind: 'gathered';
  readonly from: string;
  readonly dry: boolean;
  readonly unsaidMs: number;
  readonly entries: readonly { readonly air: Air; readonly ms: number }[];
}

/** One key for air that counts alike. */
export function airKey(air: Air): string {
  return `${air.columnC}/${air.columnPct}/${air.told}/${String(air.outOfRange)}`;
}
