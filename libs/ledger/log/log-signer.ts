/** The key that the house signs its checkpoints, manifests and exports with. The private half never leaves it. */
export interface LogSigner {
  /** Verifier key of a signed note (C2SP signed-note). */
  readonly vkey: string;
  /** Ed25519 (RFC 8032) over the message as it is. @returns 64 bytes */
  sign(message: Uint8Array): Uint8Array;
}
