import fc from 'fast-check';
import { DEVICES, Measured, Move, PROFILES, REFDES, Step, UNITS } from '../reference/gate-words.js';
import { Decision, Signer } from '../reference/naive-desk.js';
import { Follow, Operation, Tell, When } from './gate-operation.js';

const one = <const T>(...of: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...of);
const site = one(...REFDES);
const profile = one(...PROFILES);
const device = one(...Object.keys(DEVICES));
const loose = one('N1', 'N2', 'N3', 'A1');
const unit = one<string>(...UNITS);
const which = fc.nat({ max: 5 });
const signer = one<Signer>('ann', 'bea', 'cy');

const touchUp = fc.record({ kind: one('touch-up'), site, profile });
const removal = fc.record({ kind: one('removal'), site, fate: one('keep', 'keep', 'scrap'), profile });
const dressing = fc.record({ kind: one('dressing'), site, method: one('braid', 'coupon'), profile });
const placement = fc.record({ kind: one('placement'), site, device: loose, profile });
const pass = fc.record({ kind: one('pass') });
const boardStep: fc.Arbitrary<Step> = fc.oneof(
  { weight: 5, arbitrary: touchUp },
  { weight: 4, arbitrary: removal },
  { weight: 2, arbitrary: dressing },
  { weight: 4, arbitrary: placement },
  { weight: 1, arbitrary: pass },
);
const reballing = fc.record({ kind: one('reballing'), device: device.map((name): string | null => name) });
const seen = one<Measured['own']>(null, null, null, 'melts', 'cool');
const when: fc.Arbitrary<When> = fc.record({
  minutesAgo: fc.oneof({ weight: 3, arbitrary: one(0) }, { weight: 2, arbitrary: fc.nat({ max: 25 }) }),
  minutesHot: one(0, 0, 2),
  measured: fc.record({ own: seen, beside: seen }),
});
const sense = one(true, true, true, true, true, true, false);
const names = one<Tell['names']>(null, null, 'wrong', 0, 0, 1, 2);

const ownTell = (doing: fc.Arbitrary<Step | Move>): fc.Arbitrary<Omit<Tell, 'subject'>> =>
  fc
    .tuple(when, doing, names, sense)
    .map(([at, what, named, sensible]) => ({ op: 'tell', ...at, doing: what, names: named, sensible }));
const boardTell = ownTell(boardStep);
const onBoard: fc.Arbitrary<Tell> = fc.tuple(boardTell, unit).map(([tell, subject]) => ({ ...tell, subject }));
const onDevice: fc.Arbitrary<Tell> = ownTell(reballing).map((tell) => ({ ...tell, subject: subjectOfReballing(tell) }));
const move: fc.Arbitrary<Tell> = fc
  .oneof(
    fc.tuple(ownTell(one<Move>({ kind: 'shipped' }, { kind: 'received' })), unit),
    fc.tuple(
      ownTell(one<Move>({ kind: 'device-in' })),
      device.map((name) => `devices/${name}`),
    ),
  )
  .map(([tell, subject]) => ({ ...tell, subject, names: null }));

function subjectOfReballing({ doing }: Omit<Tell, 'subject'>): string {
  return `devices/${doing.kind === 'reballing' ? String(doing.device) : ''}`;
}

const chain: fc.Arbitrary<Step[]> = fc
  .tuple(removal, dressing, loose, fc.boolean())
  .map(([off, flat, next, again]) => [
    off,
    { ...flat, site: off.site },
    ...(again ? ([{ kind: 'reballing', device: null }] as const) : []),
    { kind: 'placement', site: off.site, device: next, profile: off.profile },
  ]);
const boardPlan: fc.Arbitrary<Step[]> = fc.oneof(
  { weight: 3, arbitrary: fc.array(boardStep, { minLength: 1, maxLength: 3 }) },
  { weight: 1, arbitrary: chain },
  { weight: 1, arbitrary: fc.tuple(boardStep, reballing) },
);
const terms = fc.record({
  station: one('BENCH', 'BENCH', 'SPARE'),
  operator: one('op', 'op', 'po'),
  ttlMinutes: one(2, 10, 30, 90),
});
const asks: fc.Arbitrary<Operation> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .tuple(unit, boardPlan, terms, fc.option(boardTell, { freq: 4 }), sense)
      .map(([subject, steps, rest, before, sensible]): Operation => ({
        op: 'ask',
        wish: { subject, steps, ...rest },
        before,
        sensible,
      })),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(loose, terms).map(([name, rest]): Operation => {
      const steps: Step[] = [{ kind: 'reballing', device: null }];
      return { op: 'ask', wish: { subject: `devices/${name}`, steps, ...rest }, before: null, sensible: false };
    }),
  },
);

const sites = UNITS.flatMap((name) => REFDES.map((refdes) => `${name}#${refdes}`));
const held = one<string>(
  ...[...UNITS, ...sites, 'devices/A1', 'devices/N1', 'devices/N2'],
  ...['stations/SPARE', 'operators/po', 'profiles/COOL'],
);
const decision = one<Decision>('use-as-is', 'use-as-is', 'rework', 'repair', 'scrap', 'return-to-customer');

const ending = one<Decision>(
  ...(['use-as-is', 'use-as-is', 'use-as-is', 'use-as-is', 'return-to-customer', 'scrap', 'rework'] as const),
);

/** One thing that stations, the desk or time may do. */
const operation: fc.Arbitrary<Operation> = fc.oneof(
  { weight: 10, arbitrary: asks },
  {
    weight: 7,
    arbitrary: fc
      .record({ op: one('follow'), which, step: which, otherwise: one(false, false, false, true) })
      .chain((follow) => when.map((at): Follow => ({ ...follow, ...at }))),
  },
  { weight: 5, arbitrary: onBoard },
  { weight: 1, arbitrary: onDevice },
  { weight: 1, arbitrary: move },
  { weight: 2, arbitrary: fc.record({ op: one('give back'), which }) },
  { weight: 2, arbitrary: fc.record({ op: one('wait'), minutes: one(1, 5, 20, 60) }) },
  { weight: 3, arbitrary: fc.record({ op: one('annul'), which }) },
  { weight: 4, arbitrary: fc.record({ op: one('concede'), which, more: one(0, 1, 1, 2) }) },
  { weight: 2, arbitrary: fc.record({ op: one('withdraw concession'), which }) },
  { weight: 1, arbitrary: fc.record({ op: one('hold'), subject: held, by: signer }) },
  { weight: 8, arbitrary: fc.record({ op: one('let go'), which, decision: ending }) },
  { weight: 3, arbitrary: fc.record({ op: one('decide'), which, decision, by: signer }) },
  { weight: 2, arbitrary: fc.record({ op: one('release'), which, by: signer }) },
  { weight: 2, arbitrary: fc.record({ op: one('comes back'), subject: unit }) },
);

export const operations: fc.Arbitrary<Operation[]> = fc.array(operation, { minLength: 1, maxLength: 40, size: 'max' });
