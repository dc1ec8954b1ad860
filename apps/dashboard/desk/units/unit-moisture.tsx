import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Mark } from '../kit/marks.js';
import { Loaded } from '../kit/states.js';
import { useNow, When } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { MoistureClock } from './moisture-clock.js';
import { clockInWords } from './moisture-words.js';
import { DeviceName } from './site-device.js';
import { HOUSE, useDevices } from './unit-queries.js';

/** Clocks beyond these are left to the devices' own pages. */
const MOST_CLOCKS = 40;

/** How long the board may still lie open before it must be baked, and the clock of each device on it. */
export function UnitMoisture({ unit }: { readonly unit: Schemas['Unit'] }) {
  const { moisture } = unit;
  const isHouse = useRole(...HOUSE);
  const { tone, words } = clockInWords(moisture, useNow());
  return (
    <>
      <Block title="Floor life of the board" note="That of the device aboard that bears least.">
        <p className="moisture-head">
          <Mark tone={tone}>{words}</Mark>
          {moisture.expiresAt !== null && (
            <span>
              {moisture.state === 'expired' ? 'on' : 'until'} <When at={moisture.expiresAt} />
            </span>
          )}
          <span>Board known to be dry: {moisture.boardDry ? 'yes, baked long enough' : 'no'}</span>
        </p>
        <p>{moisture.why}.</p>
        {moisture.remedy !== null && (
          <p>
            <strong>What would set it back:</strong> {moisture.remedy}
          </p>
        )}
        {moisture.unknown.length > 0 && (
          <p>
            Not known of{' '}
            {moisture.unknown.map((device, n) => (
              <span key={device}>
                {n > 0 && ', '}
                <DeviceName device={device} />
              </span>
            ))}
            : a bake, a sealed pack or a told exposure would start their clocks.
          </p>
        )}
        {!isHouse && moisture.governing !== null && (
          <MoistureClock clock={moisture.governing.clock} title={<DeviceName device={moisture.governing.device} />} />
        )}
      </Block>
      {isHouse && <DeviceClocks unit={unit} />}
    </>
  );
}

function DeviceClocks({ unit }: { readonly unit: Schemas['Unit'] }) {
  const aboard = unit.sites.flatMap(({ device, refdes }) => (device === null ? [] : [{ device, refdes }]));
  const shown = aboard.slice(0, MOST_CLOCKS);
  const queries = useDevices(shown.map(({ device }) => device));
  if (aboard.length === 0) return null;
  return (
    <Block title="Devices on it">
      <div className="moisture-clocks">
        {shown.map(({ device, refdes }, n) => {
          const query = queries[n];
          return (
            query !== undefined && (
              <Loaded key={refdes} query={query} what={`the clock of ${refdes}`}>
                {({ moisture }) => (
                  <MoistureClock
                    clock={moisture}
                    title={
                      <>
                        <span className="mono">{refdes}</span> <DeviceName device={device} on={refdes} />
                      </>
                    }
                  />
                )}
              </Loaded>
            )
          );
        })}
      </div>
      {aboard.length > MOST_CLOCKS && <p>{aboard.length - MOST_CLOCKS} more: see the pages of the devices.</p>}
    </Block>
  );
}
