import type { Schemas } from '../api/client.js';
import { copperInWords, deviceInWords, inspectionsOf, leadInWords, unitStateWords } from './site-words.js';

type Site = Schemas['Site'];

const site = (over: Partial<Site>): Site =>
  ({ lead: { estimate: null, measuredPct: null }, copper: null, ...over }) as Site;

function copper(over: Partial<NonNullable<Site['copper']>>): Site {
  const figures = { leftUm: 30.955, startUm: 35, lostUm: 4.045, certainty: 'estimate', basis: 'assumed' } as const;
  return site({ copper: { ...figures, rows: [], source: 'a guess', ...over } });
}

describe('Pad copper', () => {
  it('never passes an estimate for a measurement', () => {
    expect(copperInWords(copper({}))).toBe('31 of 35 µm left, rates assumed');
    expect(copperInWords(copper({ certainty: 'at-most', basis: 'measured' }))).toBe(
      'at most 31 of 35 µm, rates measured',
    );
    expect(copperInWords(copper({ certainty: 'not-modelled' }))).toContain('before the model ends');
  });

  it('is said to be unknown where it is', () => {
    expect(copperInWords(copper({ leftUm: null }))).toBe('not known of 35 µm');
    expect(copperInWords(site({ copper: null }))).toContain('not known');
  });
});

describe('Lead in the joint', () => {
  const estimate = { leadPct: 0.0817, basis: 'inferred' } as NonNullable<Site['lead']['estimate']>;

  it('is the measured figure before the estimated one', () => {
    expect(leadInWords(site({ lead: { estimate, measuredPct: 0.05 } }))).toBe('0.05 wt%, measured');
    expect(leadInWords(site({ lead: { estimate, measuredPct: null } }))).toBe(
      '0.082 wt%, estimate (inferred from the step)',
    );
    expect(leadInWords(site({}))).toBe('no figure');
  });
});

it('Inspections that failed come first', () => {
  expect(inspectionsOf(site({ inspected: { visual: 'pass', xray: 'fail' } })).map(({ words }) => words)).toEqual([
    'X-ray failed',
    'visual passed',
  ]);
});

describe('A device', () => {
  it('goes by its name, or by the place that it came on', () => {
    expect(deviceInWords('K-0103')).toBe('K-0103');
    expect(deviceInWords('QRN-DRIVE-3:0301:U1')).toBe('label not read, came on U1');
    expect(deviceInWords('QRN-DRIVE-3:0301:U1', 'U1')).toBe('label not read');
    expect(deviceInWords('QRN-DRIVE-3:0301:U1', 'U2')).toBe('label not read, came on U1');
    expect(deviceInWords('LOT:7')).toBe('LOT:7');
  });
});

it('A state of a unit without words is shown as it is', () => {
  expect(unitStateWords('in-house')).toBe('in the house');
  expect(unitStateWords('lent')).toBe('lent');
});
