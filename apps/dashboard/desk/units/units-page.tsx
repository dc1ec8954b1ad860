import { useState } from 'react';
import { useSearchParams } from 'wouter';
import { Button } from '../kit/button.js';
import { Block, Page } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { VirtualRows } from '../kit/virtual-rows.js';
import { useSession } from '../session/session-gate.js';
import { readUnitFilter, writeUnitFilter } from './unit-filter.js';
import { LIVE_PAGES, type UnitFilter, useUnits } from './unit-queries.js';
import { UnitListRow } from './unit-list-row.js';
import { UnitsFilter } from './units-filter.js';
import './units-page.css';

const ROW_PX = 40;
/** A list up to that long takes no more room than it needs. */
const SHORT = 12;

/** Every unit in the book that the reader may see, by assembly and serial. The address keeps what it is narrowed down to. */
export default function UnitsPage() {
  const [params, setParams] = useSearchParams();
  const filter = readUnitFilter(params);
  const { customer } = useSession();
  return (
    <Page title="Units" over={customer ?? undefined}>
      <Block title="Narrow down">
        <UnitsFilter
          filter={filter}
          onFilter={(next) => {
            setParams(writeUnitFilter(next));
          }}
        />
      </Block>
      <UnitsFound key={writeUnitFilter(filter).toString()} filter={filter} />
    </Page>
  );
}

function UnitsFound({ filter }: { readonly filter: UnitFilter }) {
  const [pages, setPages] = useState(1);
  const units = useUnits(filter, pages <= LIVE_PAGES);
  const more = () => {
    if (!units.hasNextPage || units.isFetching) return;
    setPages((before) => before + 1);
    void units.fetchNextPage();
  };
  return (
    <Block
      title="By assembly and serial"
      beside={
        pages > LIVE_PAGES &&
        units.isStale && (
          <Button
            onClick={() => {
              void units.refetch();
            }}
          >
            Something has changed: renew the list
          </Button>
        )
      }
    >
      <Loaded query={units} what="the units">
        {({ pages: found }) => {
          const rows = found.flatMap(({ items }) => items);
          if (rows.length === 0) return <NoUnits filtered={Object.keys(filter).length > 0} />;
          return (
            <>
              <div className="unit-list__head" aria-hidden="true">
                <span>Unit</span>
                <span>Customer</span>
                <span>State</span>
                <span>Open holds</span>
                <span>Newest entry</span>
              </div>
              <div className={rows.length <= SHORT ? 'unit-list--short' : ''}>
                <VirtualRows
                  label="Units"
                  rows={rows}
                  rowHeightPx={ROW_PX}
                  rowKey={({ assembly, serial }) => `${assembly}/${serial}`}
                  render={(row) => <UnitListRow row={row} />}
                  onEnd={more}
                />
              </div>
              <p className="quiet" role="status">
                {units.isFetchingNextPage
                  ? 'Fetching more'
                  : units.hasNextPage
                    ? `${rows.length} so far; scroll for more`
                    : `${rows.length} in all`}
              </p>
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}

function NoUnits({ filtered }: { readonly filtered: boolean }) {
  return filtered ? (
    <Empty title="No unit is like that.">
      <p>Names are matched whole, capitals and all; the scan field above finds beginnings of serials too.</p>
    </Empty>
  ) : (
    <Empty title="The book has no unit yet.">
      <p>A unit appears with the first event that a station posts of it.</p>
    </Empty>
  );
}
