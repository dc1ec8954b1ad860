import { LimitKind, LimitRule } from './limit-rule.js';

const policy = 'House policy, to be revised by the house.';

function limit(
  kind: LimitKind,
  allowed: LimitRule['allowed'],
  unit: string,
  action: LimitRule['action'],
  source: string,
): readonly [LimitKind, LimitRule] {
  return [kind, { kind, allowed, unit, scope: {}, action, source }];
}

/**
 * What a new book starts with: one unscoped limit a kind, named like its kind. Every figure is the house's to change;
 * `source` says where it comes from. No standard sets a greatest number of reworks for a site.
 */
export const HOUSE_LIMITS: ReadonlyMap<LimitKind, LimitRule> = new Map([
  limit(
    'device-excursions',
    3,
    'excursions',
    'hold',
    'Three passes are what J-STD-020 classification exposes a package to; device makers give the same figure.',
  ),
  limit(
    'site-reworks',
    3,
    'reworks',
    'hold',
    `${policy} No standard sets a figure; practice is 1, 2 or 3, then review.`,
  ),
  limit('site-dressings', 6, 'dressings', 'warn', policy),
  limit('site-excursions', 8, 'excursions', 'warn', policy),
  limit(
    'unit-reflows',
    6,
    'whole-board passes',
    'hold',
    'Six passes are the usual count of IPC-TM-650 2.6.27 for bare boards (from memory).',
  ),
  limit(
    'pad-copper-min',
    10,
    'um',
    'hold',
    'Published rework experience with a knee at 10 um (Xia et al., SMTA 2012).',
  ),
  limit(
    'joint-lead-max',
    0.1,
    'wt%',
    'hold',
    'Directive 2011/65/EU: 0.1 wt% of a homogeneous material, for lead-free assemblies.',
  ),
  limit(
    'flatness-max',
    [
      { pitchMm: 0.5, max: 0.08 },
      { pitchMm: 0.65, max: 0.1 },
      { pitchMm: 0.8, max: 0.12 },
      { pitchMm: 1.27, max: 0.2 },
    ],
    'mm',
    'hold',
    'Coplanarity by pitch as makers give it (from memory).',
  ),
  limit(
    'void-fraction-max',
    0.3,
    'share of ball area',
    'hold',
    'IPC-A-610 revision F and later (from memory); revision E had 0.25.',
  ),
  limit(
    'body-peak-max',
    0,
    'C over class temperature',
    'hold',
    'J-STD-020: the body stays at or below its class temperature.',
  ),
  limit('profile-window', 0, 'figures outside the window', 'hold', policy),
  limit('floor-life', 1, 'share of floor life', 'hold', 'J-STD-033 floor life.'),
  limit('qualified-operator', 0, 'steps without a valid qualification', 'warn', policy),
  limit('calibrated-station', 0, 'steps after calibration was due', 'hold', policy),
  limit('method-allowed', ['braid', 'vacuum', 'fountain', 'coupon'], 'dressing methods', 'hold', policy),
  limit('clearance-required', 0, 'heats without clearance', 'warn', policy),
  limit('guard-band', 5, 'C below solidus', 'warn', policy),
]);
