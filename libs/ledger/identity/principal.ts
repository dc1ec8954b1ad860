export const ROLES = ['station', 'operator', 'quality', 'approver', 'customer', 'auditor', 'admin'] as const;
export type Role = (typeof ROLES)[number];

/** Who asks: a station or automation by its key, or a person who has signed in. */
export interface Principal {
  /** Of the station, or of the person's account. */
  readonly name: string;
  readonly via: 'key' | 'session';
  /** At least one. */
  readonly roles: readonly Role[];
  /** Whose assemblies a caller with role customer may see; on nobody else. */
  readonly customer?: string;
}

export function hasRole(principal: Pick<Principal, 'roles'>, ...roles: readonly Role[]): boolean {
  return principal.roles.some((role) => roles.includes(role));
}
