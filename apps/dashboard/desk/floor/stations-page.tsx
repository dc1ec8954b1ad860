import { Button } from '../kit/button.js';
import { Block, Page } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { HouseOnly } from '../kit/house-only.js';
import { NoticesBlock } from './notices-block.js';
import { ParkedBlock } from './parked-block.js';
import { QueueFigures } from './queue-figures.js';
import { StationRows } from './station-rows.js';
import { useStationReports } from './station-queries.js';
import './stations-page.css';

/** The floor at a glance: which stations are heard of and in calibration, what waits of them, and what falls due. */
export default function StationsPage() {
  return (
    <HouseOnly title="Stations">
      <Floor />
    </HouseOnly>
  );
}

function Floor() {
  return (
    <Page title="Stations" beside={<QueueFigures />}>
      <AllStations />
      <div className="stations-page__below">
        <ParkedBlock />
        <NoticesBlock />
      </div>
    </Page>
  );
}

function AllStations() {
  const reports = useStationReports();
  return (
    <Block title="All stations">
      <Loaded query={reports} what="the stations">
        {({ pages }) => {
          const rows = pages.flatMap(({ items }) => items);
          if (rows.length === 0) return <NoStations />;
          return (
            <>
              <StationRows reports={rows} />
              {reports.hasNextPage && (
                <Button busy={reports.isFetchingNextPage} onClick={() => void reports.fetchNextPage()}>
                  Show more stations
                </Button>
              )}
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}

function NoStations() {
  return (
    <Empty title="The setup has no station yet.">
      <p>Stations are entered with PUT /v1/stations/…; then each gets a key, and its events are taken.</p>
    </Empty>
  );
}
