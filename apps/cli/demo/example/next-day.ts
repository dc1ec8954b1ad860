import { PlannedStep } from '../../../../libs/domain/clearance/clearance.js';
import { annulEvent } from '../../../../libs/ledger/annulments/annul-event.js';
import { grantClearance } from '../../../../libs/ledger/clearances/grant-clearance.js';
import { signConcession } from '../../../../libs/ledger/concessions/sign-concession.js';
import { disposeHold } from '../../../../libs/ledger/holds/dispose-hold.js';
import { HoldRecord } from '../../../../libs/ledger/holds/hold-record.js';
import { releaseHold } from '../../../../libs/ledger/holds/release-hold.js';
import { keepTrace } from '../../../../libs/ledger/traces/keep-trace.js';
import { ExampleHouse } from './example-house.js';
import { asApprover, asQuality } from './example-people.js';
import {
  afterPlacement,
  deviceFetched,
  devicePlaced,
  EXAMPLE_KEY,
  EXAMPLE_SITE,
  EXAMPLE_UNIT,
  lateDressing,
  NEW_DEVICE,
  nextDay,
  repairInspected,
  siteChecked,
  WRONG_SITE,
} from './example-steps.js';
import { exampleHeat, exampleTrace } from './example-trace.js';

/**
 * What quality and the bench do about the board on the day after the shift: the holds are decided and released, a new device
 * goes on, one event is annulled and one is told late.
 * @throws Error where the book answers otherwise than the example means it to
 */
export async function nextDayOnBoard(house: ExampleHouse): Promise<void> {
  await house.tell(repairInspected());
  await holdsSettled(house);
  const clearance = await cleared(house);
  const [received, opened] = deviceFetched();
  const trace = exampleTrace();
  const heat = exampleHeat(trace, nextDay('09:04'), nextDay('09:11'));
  await keepTrace(
    { traces: house.traces, seal: house.book.seal, clock: house.book.clock },
    { name: trace.name, voltage: null, by: 'HOTGAS-4', bytes: Buffer.from(trace.csv) },
  );
  for (const event of [received, ...siteChecked(), opened, devicePlaced(clearance, heat), ...afterPlacement()]) {
    if (event !== undefined) await house.tell(event);
  }
  house.reach(nextDay('11:05'));
  const note =
    'U3 was not looked at: the inspector picked the wrong line of the list, and posted the right one after it.';
  const wish = { event: WRONG_SITE, subject: EXAMPLE_KEY, note, signer: asQuality('found at the review of the day') };
  const annulled = await annulEvent(house.book, wish);
  if (typeof annulled === 'string') throw new Error(`the annulment of the example is ${annulled}`);
  await house.tell(lateDressing(clearance), nextDay('13:30'));
}

async function holdsSettled(house: ExampleHouse): Promise<void> {
  const { items } = await house.reads.holds({ ...EXAMPLE_UNIT, state: 'open' }, { limit: 50, cursor: null });
  const reworks = heldFor(items, 'site-reworks');
  const damage = heldFor(items, 'damage-found');
  house.reach(nextDay('07:30'));
  await done(
    signConcession(house.book, {
      ...{ subject: EXAMPLE_SITE, limit: 'site-reworks', allowed: 4, customerReference: 'letter Q-26-031' },
      ...{ note: 'one rework more, this board only', signer: asApprover('approved for the customer') },
    }),
  );
  house.reach(nextDay('07:35'));
  await done(
    disposeHold(house.book, {
      ...{ id: reworks, decision: 'rework', signer: asQuality('reviewed and decided') },
      note: 'The customer concedes a fourth rework of U2; go on with the repaired site.',
    }),
  );
  await done(
    disposeHold(house.book, {
      ...{ id: damage, decision: 'repair', signer: asQuality('reviewed and decided') },
      note: 'Pad A1 replaced by house procedure 12 and inspected; the neighbouring pads hold.',
    }),
  );
  house.reach(nextDay('07:50'));
  for (const id of [reworks, damage]) {
    const signer = asApprover('released for further work');
    await done(releaseHold(house.book, { id, signer, note: 'Done as decided; seen at the board.' }));
  }
}

function heldFor(holds: readonly HoldRecord[], reason: HoldRecord['reason']): string {
  const found = holds.find((hold) => hold.reason === reason);
  if (found === undefined) throw new Error(`the board of the example is not held for ${reason}`);
  return found.id;
}

async function done(act: Promise<object>): Promise<void> {
  const answer = await act;
  if ('refused' in answer) throw new Error(`the desk refuses in the example: ${JSON.stringify(answer)}`);
}

/** Clearance for the dressing and the placement. @returns its id */
async function cleared(house: ExampleHouse): Promise<string> {
  house.reach(nextDay('08:10'));
  const steps: PlannedStep[] = [
    {
      ...{ type: 'heatbook.site.dressed.v1', refdes: 'U2', method: 'braid', passes: 2, contactSeconds: 4 },
      solderAlloy: 'Sn63Pb37',
    },
    {
      ...{ type: 'heatbook.device.placed.v1', refdes: 'U2', device: NEW_DEVICE, part: 'P-BGA144L', attach: 'paste' },
      ...{ pasteAlloy: 'Sn63Pb37', profile: { name: 'QRN-DRIVE-3-U2-ON', revision: 'B' } },
    },
  ];
  const actor = { kind: 'station', name: 'HOTGAS-4' } as const;
  const wish = { subject: EXAMPLE_KEY, station: 'HOTGAS-4', operator: 'op-104', steps, ttlSeconds: 14_400, actor };
  const answer = await grantClearance(house.book, wish);
  if (answer === 'other-body' || !('granted' in answer)) {
    throw new Error(`the example is not cleared: ${JSON.stringify(answer)}`);
  }
  return answer.granted.id;
}
