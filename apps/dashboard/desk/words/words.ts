/** Words of the trade for the codes of the API. A code that has none is shown as it is. */
function wordsOf(words: Readonly<Record<string, string>>): (code: string) => string {
  return (code) => words[code] ?? code;
}

/** Reasons of holds, limit kinds included. */
export const reasonWords = wordsOf({
  'device-excursions': 'Device: too many excursions',
  'site-reworks': 'Site: too many reworks',
  'site-dressings': 'Site: many dressings',
  'site-excursions': 'Site: many excursions',
  'unit-reflows': 'Board: too many reflows',
  'pad-copper-min': 'Pad copper too thin',
  'joint-lead-max': 'Lead in the joint',
  'flatness-max': 'Site not flat',
  'void-fraction-max': 'Voids',
  'body-peak-max': 'Body too hot',
  'profile-window': 'Outside the profile window',
  'floor-life': 'Floor life ran out',
  'qualified-operator': 'Operator not qualified',
  'calibrated-station': 'Station out of calibration',
  'method-allowed': 'Method not allowed',
  'clearance-required': 'Heated without clearance',
  'event-parked': 'Event cannot be applied',
  'sequence-broken': 'Steps out of sequence',
  'identity-conflict': 'Devices do not add up',
  'summary-mismatch': 'Summary and trace disagree',
  'damage-found': 'Damage found',
  'late-event': 'A late event changed a verdict',
  'shipped-open': 'Shipped with open points',
  'by-hand': 'Raised by hand',
});

/** Limit kinds, as what is counted or measured. */
export const limitWords = wordsOf({
  'device-excursions': 'Excursions of the device',
  'site-reworks': 'Reworks of the site',
  'site-dressings': 'Dressings of the site',
  'site-excursions': 'Excursions of the site',
  'unit-reflows': 'Whole-board reflows',
  'pad-copper-min': 'Pad copper left, at least',
  'joint-lead-max': 'Lead in the joint, at most',
  'flatness-max': 'Site flatness, at most',
  'void-fraction-max': 'Voids of a joint, at most',
  'body-peak-max': 'Body peak over class temperature',
  'profile-window': 'Outside the profile window',
  'floor-life': 'Floor life',
  'qualified-operator': 'Qualified operator',
  'calibrated-station': 'Calibrated station',
  'method-allowed': 'Allowed method',
  'clearance-required': 'Clearance before the heat',
  'guard-band': 'Guard band below solidus',
});

/** Types of ledger entries, as what happened. */
export const entryWords = wordsOf({
  'heatbook.unit.received.v1': 'Received',
  'heatbook.device.received.v1': 'Device received',
  'heatbook.unit.baked.v1': 'Board baked',
  'heatbook.device.baked.v1': 'Device baked',
  'heatbook.exposure.started.v1': 'Out in the air',
  'heatbook.exposure.stopped.v1': 'Stored dry',
  'heatbook.unit.reflowed.v1': 'Whole board reflowed',
  'heatbook.device.removed.v1': 'Device removed',
  'heatbook.site.dressed.v1': 'Site dressed',
  'heatbook.device.deballed.v1': 'Device deballed',
  'heatbook.device.reballed.v1': 'Device reballed',
  'heatbook.device.placed.v1': 'Device placed',
  'heatbook.site.heated.v1': 'Site heated',
  'heatbook.site.cleaned.v1': 'Site cleaned',
  'heatbook.site.repaired.v1': 'Site repaired',
  'heatbook.inspection.recorded.v1': 'Inspected',
  'heatbook.bath.analysed.v1': 'Bath analysed',
  'heatbook.unit.shipped.v1': 'Shipped',
  'heatbook.unit.scrapped.v1': 'Scrapped',
  'heatbook.device.scrapped.v1': 'Device scrapped',
  'heatbook.clearance.granted.v1': 'Clearance granted',
  'heatbook.clearance.returned.v1': 'Clearance given back',
  'heatbook.clearance.lapsed.v1': 'Clearance lapsed',
  'heatbook.hold.raised.v1': 'Hold raised',
  'heatbook.hold.disposed.v1': 'Disposition signed',
  'heatbook.hold.released.v1': 'Hold released',
  'heatbook.hold.withdrawn.v1': 'Hold withdrawn',
  'heatbook.concession.signed.v1': 'Concession signed',
  'heatbook.concession.withdrawn.v1': 'Concession withdrawn',
  'heatbook.entry.annulled.v1': 'Entry struck',
  'heatbook.entry.rejudged.v1': 'Judged anew',
  'heatbook.device.moved.v1': 'Moved with its board',
  'heatbook.limit.rechecked.v1': 'Judged by a new limit',
});

export const decisionWords = wordsOf({
  'use-as-is': 'Use as is',
  rework: 'Rework',
  repair: 'Repair',
  scrap: 'Scrap',
  'return-to-customer': 'Return to customer',
});

export const methodWords = wordsOf({
  braid: 'Braid with blade tip',
  vacuum: 'Vacuum nozzle',
  fountain: 'Solder fountain',
  coupon: 'Copper coupon',
});

export const stageWords = wordsOf({
  new: 'New',
  assigned: 'Assigned',
  decided: 'Decided, to be released',
  closed: 'Closed',
});

/** What a number rests on. */
export const basisWords = wordsOf({
  measured: 'measured',
  inferred: 'inferred from the step',
  declared: 'declared',
  assumed: 'assumed',
  unknown: 'unknown',
});
