/** What a search may find, in the order in which it is shown. */
export const FOUND_KINDS = ['unit', 'device', 'assembly', 'station', 'operator', 'profile', 'hold'] as const;

/** One find. What identifies it for other routes is in members of its own; `name` is for people. */
export interface FoundItem {
  readonly kind: (typeof FOUND_KINDS)[number];
  readonly name: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly device?: string;
  readonly customer?: string;
  readonly state?: string;
  /** A few words more: what an assembly, a station or a profile is for, why there is a hold. */
  readonly detail?: string;
}

/** A find, and whether it is named exactly as was asked. */
export interface Match {
  readonly item: FoundItem;
  readonly isExact: boolean;
}
