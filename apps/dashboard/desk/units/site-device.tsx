import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { reasonWords } from '../words/words.js';
import { BudgetLeft } from './budget-left.js';
import type { Budget } from './budget-words.js';
import { deviceInWords, isUnnamed } from './site-words.js';
import { HOUSE } from './unit-queries.js';

interface SiteDeviceProps {
  readonly unit: Schemas['Unit'];
  readonly site: Schemas['Site'];
  readonly budget: Budget | undefined;
}

/** The device on a site, and how many excursions it has left. */
export function SiteDevice({ unit, site: { refdes, device, disputed }, budget }: SiteDeviceProps) {
  if (device === null) return <p className="site-device__none">No device on it</p>;
  const held = unit.holds.filter(({ subject }) => subject.kind === 'device' && subject.device === device);
  const { expired, unknown } = unit.moisture;
  return (
    <div className="site-device">
      <p>
        <DeviceName device={device} on={refdes} />{' '}
        {held.map(({ id, reason }) => (
          <Link key={id} href={paths.hold(id)}>
            <Mark tone="stop">held</Mark>
            <span className="unseen">: {reasonWords(reason)}</span>
          </Link>
        ))}
      </p>
      {disputed && (
        <p>
          <Mark tone="caution">in doubt</Mark> its own record has it elsewhere; its figures are left to that place
        </p>
      )}
      {budget !== undefined && <BudgetLeft budget={budget} large />}
      {expired.includes(device) && <Mark tone="stop">floor life ran out</Mark>}
      {unknown.includes(device) && <Mark tone="caution">moisture not known</Mark>}
    </div>
  );
}

interface DeviceNameProps {
  readonly device: string;
  /** The site that it is named beside. */
  readonly on?: string;
}

/** A device by its name, leading to its page for whoever may see that. */
export function DeviceName({ device, on }: DeviceNameProps) {
  const isHouse = useRole(...HOUSE);
  const look = isUnnamed(device) ? '' : 'mono';
  const words = deviceInWords(device, on);
  if (!isHouse) return <span className={look}>{words}</span>;
  return (
    <Link className={look} href={paths.device(device)}>
      {words}
    </Link>
  );
}
