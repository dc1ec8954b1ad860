import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { paths } from '../paths.js';
import { isUnnamed } from '../units/site-words.js';
import { UnitHash } from '../units/unit-hash.js';
import { DeviceNaming } from './device-naming.js';
import { hasOwnLedger } from './has-own-ledger.js';
import '../units/unit-head.css';

const STATUS = {
  loose: 'loose',
  mounted: 'on a board',
  scrapped: 'scrapped',
  renamed: 'known by another name',
} as const;
const BALLS = { 'as-made': 'as made', none: 'none: taken off', reballed: 'new' } as const;

/** What one wants to know of a device before anything else. */
export function DeviceHead({ device }: { readonly device: Schemas['Device'] }) {
  const { place, part, lot, dateCode, owner, balls, headHash } = device;
  return (
    <>
      <dl className="unit-head">
        <div>
          <dt>Is</dt>
          <dd>
            {STATUS[device.status]}
            {place !== null && (
              <>
                {': '}
                <Link className="mono" href={`${paths.unit(place.assembly, place.serial)}?site=${place.refdes}`}>
                  {place.assembly} / {place.serial} · {place.refdes}
                </Link>
              </>
            )}
          </dd>
        </div>
        <div>
          <dt>Part</dt>
          <dd className="mono">{part ?? 'not known'}</dd>
        </div>
        <div>
          <dt>Balls</dt>
          <dd>
            {BALLS[balls.state]}
            {balls.alloy !== undefined && `, ${balls.alloy}`}
          </dd>
        </div>
        <div>
          <dt>Lot, date code, owner</dt>
          <dd>{[lot ?? 'no lot', dateCode ?? 'no date code', owner ?? 'no owner'].join(', ')} told</dd>
        </div>
        {hasOwnLedger(device) && (
          <div>
            <dt>Newest entry</dt>
            <dd>
              <UnitHash hash={headHash} />
            </dd>
          </div>
        )}
      </dl>
      {(isUnnamed(device.device) || device.knownAs !== null) && <DeviceNaming device={device} />}
    </>
  );
}
