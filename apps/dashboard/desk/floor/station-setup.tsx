import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { dayOf } from './day-of.js';
import { useStationSetup } from './station-queries.js';

type StationRevision = Schemas['SetupRevision'] & Schemas['StationBody'];

/** What was entered of the station, and what it was before. */
export function StationSetup({ station }: { readonly station: string }) {
  return (
    <Block title="Setup">
      <Loaded query={useStationSetup(station)} what="its setup">
        {({ items }) => (
          <ol className="station-setup">
            {items.map((revision, place) => (
              <li key={revision.revision}>
                <h3>
                  Revision {revision.revision}
                  {place === 0 && ', in force'}
                </h3>
                <dl className="facts">
                  <Facts revision={revision} />
                </dl>
              </li>
            ))}
          </ol>
        )}
      </Loaded>
    </Block>
  );
}

function Facts({ revision: { kind, calibrationDueAt, thermocouple, at, by } }: { readonly revision: StationRevision }) {
  return (
    <>
      <dt>Kind</dt>
      <dd>{kind}</dd>
      <dt>Calibration due</dt>
      <dd>{calibrationDueAt === undefined ? 'no date' : dayOf(calibrationDueAt)}</dd>
      <dt>Thermocouple</dt>
      <dd>{thermocouple === undefined ? 'none' : `type ${thermocouple.type}, class ${thermocouple.class}`}</dd>
      <dt>Entered</dt>
      <dd>
        <When at={at} /> by {by}
      </dd>
    </>
  );
}
