/** The two primitives that a check rests on, so that the same code runs on the command line and in a browser. */
export interface Digests {
  /** SHA-256 (FIPS 180-4) of bytes, or of the UTF-8 bytes of a text. @returns 32 bytes */
  readonly sha256: (content: string | Uint8Array) => Uint8Array;
  /**
   * Ed25519 (RFC 8032) over the message as it is.
   * @param publicKey 32 bytes
   * @param signature 64 bytes
   * @returns whether the signature is the key's; false for what is no key or no signature
   */
  readonly verifyEd25519: (publicKey: Uint8Array, message: Uint8Array, signature: Uint8Array) => Promise<boolean>;
}
