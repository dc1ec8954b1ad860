import { useParams } from 'wouter';
import { Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { nameIn } from '../paths.js';
import { useDevice } from '../units/unit-queries.js';
import { UnitStops } from '../units/unit-stops.js';
import { DeviceBlocks } from './device-blocks.js';
import { DeviceHead } from './device-head.js';

/** A device: where it is and has been, what heat it has seen and has left, its moisture clock, and what stops it. */
export default function DevicePage() {
  const name = nameIn(useParams<{ device: string }>().device);
  const device = useDevice(name);
  return (
    <Page title={name} over={device.data?.part ?? 'Device'}>
      <Loaded query={device} what="the device">
        {(found) => (
          <>
            <DeviceHead device={found} />
            <UnitStops holds={found.holds} />
            <DeviceBlocks device={found} />
          </>
        )}
      </Loaded>
    </Page>
  );
}
