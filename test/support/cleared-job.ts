import { isClearedType } from '../../libs/domain/clearance/clearance.js';
import { StationEventType } from '../../libs/domain/events/station-event.js';
import { grantClearance } from '../../libs/ledger/clearances/grant-clearance.js';
import { RunningHouse } from './running-house.js';
import { ordinaryJob, Said, SHOP } from './small-shop.js';

/** When the shop's first heat begins: the bench has asked by then. */
const ASKED_AT = '2026-04-01T06:00:00.000Z';

/** An ordinary job that was cleared before its first heat, at the time of its story, and whose heats say so. */
export async function clearedJob({ house }: RunningHouse, serial: string, device: string): Promise<Said[]> {
  const profile = { name: SHOP.profile, revision: 'A' };
  const answer = await grantClearance(
    { ...house.book, clock: { now: () => ASKED_AT } },
    {
      subject: `${SHOP.assembly}/${serial}`,
      station: SHOP.bench,
      operator: 'ann',
      ttlSeconds: 4 * 3600,
      actor: { kind: 'station', name: SHOP.bench },
      steps: [
        { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap', profile },
        { type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum' },
        { type: 'heatbook.device.placed.v1', refdes: 'U7', device, profile },
      ],
    },
  );
  if (answer === 'other-body' || 'refused' in answer) throw new Error(`not cleared: ${JSON.stringify(answer)}`);
  const { id } = answer.granted;
  return ordinaryJob(device).map((said) => {
    // What is said has a type of the shop's own list.
    const isHeat = isClearedType(said.type as StationEventType);
    return isHeat ? { ...said, data: { ...said.data, clearance: id } } : said;
  });
}
