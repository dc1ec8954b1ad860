/** A cause reaches more than one containment takes. */
export class ContainmentTooWide extends Error {
  override readonly name = 'ContainmentTooWide';

  constructor(what: 'facts' | 'ledgers', most: number) {
    super(
      `The cause reaches more than ${most} ${what}, more than one containment takes: contain it in several, each for a shorter interval.`,
    );
  }
}
