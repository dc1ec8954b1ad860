import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { Ago, When } from '../kit/when.js';
import { paths } from '../paths.js';
import { CalibrationMark } from './calibration-mark.js';
import { holdsAt } from './holds-at.js';
import type { StationReport } from './station-queries.js';

/** How the station stands at this moment. */
export function StationNow({ report }: { readonly report: StationReport }) {
  const { station, lastHeardAt, lastEventTime, pending, oldestPendingAt, parked, openHolds } = report;
  return (
    <Block title="As it stands">
      <dl className="facts">
        <dt>Last heard</dt>
        <dd>{lastHeardAt === null ? 'not noted yet' : <Ago at={lastHeardAt} />}</dd>
        <dt>Its newest event is of</dt>
        <dd>{lastEventTime === null ? 'not noted yet' : <When at={lastEventTime} />}</dd>
        <dt>Calibration</dt>
        <dd>
          <CalibrationMark report={report} />
        </dd>
        <dt>Pending</dt>
        <dd>
          {pending} {pending === 1 ? 'event' : 'events'}
          {oldestPendingAt !== null && (
            <>
              , the oldest came <Ago at={oldestPendingAt} />
            </>
          )}
        </dd>
        <dt>Parked</dt>
        <dd>
          {parked} {parked === 1 ? 'event' : 'events'}
          {parked > 0 && (
            <>
              , <Link href={paths.stations}>see what is the matter</Link>
            </>
          )}
        </dd>
        <dt>Open holds</dt>
        <dd>{openHolds === 0 ? 'none' : <Link href={holdsAt(station)}>{openHolds}, on the desk</Link>}</dd>
      </dl>
    </Block>
  );
}
