import { Link } from 'wouter';
import { Mark } from '../kit/marks.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { CalibrationMark } from './calibration-mark.js';
import { holdsAt } from './holds-at.js';
import type { StationReport } from './station-queries.js';

/** Stations, one a row. Silence is shown and not judged: a bench that nobody works at is silent. */
export function StationRows({ reports }: { readonly reports: readonly StationReport[] }) {
  return (
    <div className="scroll-x" role="region" aria-label="Stations, one a row" tabIndex={0}>
      <table className="rows station-rows">
        <thead>
          <tr>
            <th scope="col">Station</th>
            <th scope="col">Kind</th>
            <th scope="col">Last heard</th>
            <th scope="col">Calibration</th>
            <th scope="col" className="number">
              Pending
            </th>
            <th scope="col" className="number">
              Parked
            </th>
            <th scope="col" className="number">
              Open holds
            </th>
          </tr>
        </thead>
        <tbody>
          {reports.map((report) => (
            <StationRow key={report.station} report={report} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function StationRow({ report }: { readonly report: StationReport }) {
  const { station, kind, lastHeardAt, pending, oldestPendingAt, parked, openHolds } = report;
  return (
    <tr>
      <th scope="row">
        <Link className="mono" href={paths.station(station)}>
          {station}
        </Link>
      </th>
      <td>{kind}</td>
      <td>{lastHeardAt === null ? <span className="quiet">not noted yet</span> : <Ago at={lastHeardAt} />}</td>
      <td>
        <CalibrationMark report={report} />
      </td>
      <td className="number">
        {pending}
        {oldestPendingAt !== null && (
          <span className="quiet">
            {' '}
            (<Ago at={oldestPendingAt} />)
          </span>
        )}
      </td>
      <td className="number">{parked === 0 ? 0 : <Mark tone="caution">{parked}</Mark>}</td>
      <td className="number">{openHolds === 0 ? 0 : <Link href={holdsAt(station)}>{openHolds}</Link>}</td>
    </tr>
  );
}
