import { InboxPlace } from '../ports/recount-store.js';
import { RecountWork } from './recount-work.js';

const PAGE = 2000;
/** Of what belongs to nothing, so many are named. */
const NAMED = 100;

/** Every accepted event is pending, parked, told or struck, and only one of these; nothing else is any of them. */
export async function checkInbox(work: RecountWork): Promise<void> {
  const { reads, tell, counts } = work;
  for (let after = '0'; ;) {
    const page = await reads.inbox(after, PAGE);
    for (const place of page) compare(work, place);
    counts.events += page.length;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) break;
    after = last.number;
  }
  for (const number of await reads.strayNumbers(NAMED)) {
    tell({
      subject: 'inbox',
      what: `event number ${number}`,
      kept: 'pending or parked',
      recomputed: 'was never accepted',
    });
  }
  for (const { subject, seq } of await reads.unaccepted(NAMED)) {
    tell({ subject, what: `event of entry ${seq}`, kept: 'told', recomputed: 'was never accepted' });
  }
}

function compare({ tell }: RecountWork, place: InboxPlace): void {
  const { source, id, subject, pending, parked, told, struck, held } = place;
  const what = `event ${id} of ${source}`;
  const places = [
    ...(pending ? ['pending'] : []),
    ...(parked ? ['parked'] : []),
    ...(told > 0 ? [told === 1 ? 'told' : `told ${told} times`] : []),
  ];
  const isWell = told > 1 ? false : places.length === 1 || (places.length === 0 && struck);
  if (!isWell) {
    const kept = places.length === 0 ? 'accepted and nowhere else' : places.join(' and ');
    tell({ subject, what, kept, recomputed: 'pending, parked or told, once' });
  }
  const callsForHold = parked && !subject.startsWith('stations/');
  if (callsForHold && !held) tell({ subject, what, kept: 'parked without a hold', recomputed: 'a hold that names it' });
}
