import { Link, useParams } from 'wouter';
import { Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { HouseOnly } from '../kit/house-only.js';
import { StationDamage } from './station-damage.js';
import { StationHolds } from './station-holds.js';
import { StationKeys } from './station-keys.js';
import { StationNow } from './station-now.js';
import { useStationReport } from './station-queries.js';
import { StationSetup } from './station-setup.js';
import { StationTouched } from './station-touched.js';
import './station-page.css';

/** One station: how it stands, and which boards it has had to do with. */
export default function StationPage() {
  return (
    <HouseOnly title="Station">
      <OneStation />
    </HouseOnly>
  );
}

function OneStation() {
  const { station } = useParams<{ station: string }>();
  const report = useStationReport(station);
  const seesKeys = useRole('admin', 'auditor');
  return (
    <Page
      title={station}
      over={
        <>
          <Link href={paths.stations}>Stations</Link> /{report.data === undefined ? '' : ` ${report.data.kind}`}
        </>
      }
    >
      <Loaded query={report} what="the station">
        {(now) => (
          <div className="station-page">
            <div className="station-page__main">
              <StationTouched report={now} />
              <StationHolds station={station} />
            </div>
            <div className="station-page__side">
              <StationNow report={now} />
              <StationDamage station={station} />
              <StationSetup station={station} />
              {seesKeys && <StationKeys station={station} />}
            </div>
          </div>
        )}
      </Loaded>
    </Page>
  );
}
