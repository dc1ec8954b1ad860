/**
 * What stands in place of a printed name that was erased: made of the commitment, so that whoever has the signature alone
 * comes to the same, and nobody to the name.
 * @param commitment lower-case hex
 */
export function pseudonymOf(commitment: string): string {
  return `erased-${commitment.slice(0, 8)}`;
}
