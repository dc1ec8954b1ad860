/** What a customer is not shown of their unit, in words. */
export const UNIT_LEFT_OUT: readonly string[] = [
  'how the house works on holds: comments, who is to close them, and until when',
  'the ledgers of devices, which tell of other boards too: what was done to a device here stands in the ledger of this unit',
  'holds on devices aboard that came to light on units of others',
];
