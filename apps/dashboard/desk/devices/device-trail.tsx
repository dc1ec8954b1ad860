import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { ledgerPath } from '../units/ledger-path.js';
import { isUnnamed } from '../units/site-words.js';
import { devicePlaces, formerName } from './device-places.js';
import './device-trail.css';

interface DeviceTrailProps {
  readonly device: Schemas['Device'];
  /** Of its ledger, the oldest first. */
  readonly entries: readonly Schemas['Entry'][];
  /** There are more entries than were read. */
  readonly more: boolean;
}

/** The places of a device over time, and the boards that it was on. */
export function DeviceTrail({ device, entries, more }: DeviceTrailProps) {
  const places = devicePlaces(entries);
  const former = formerName(entries);
  const source = { kind: 'device', device: device.device } as const;
  return (
    <>
      {places.length === 0 && <p>{withoutTrail(device)}</p>}
      <ol className="device-trail">
        {former !== undefined && (
          <li>
            <span className="quiet">before its label was read</span>
            <span>
              called <Link href={paths.device(former)}>{former}</Link>, after the place it came on
            </span>
          </li>
        )}
        {places.map(({ at, unit, refdes, how, seq }) => (
          <li key={`${seq} ${how}`}>
            <When at={at} />
            <span>
              {unit === null ? how : <UnitPlace unit={unit} refdes={refdes} how={how} />},{' '}
              <Link href={ledgerPath(source, seq)}>entry {seq}</Link>
            </span>
          </li>
        ))}
      </ol>
      {more && <p className="quiet">Its ledger tells more than is read here.</p>}
      <p>
        Boards it was on:{' '}
        {device.unitsSeen.length === 0
          ? 'none'
          : device.unitsSeen.map((unit, n) => (
              <span key={unit}>
                {n > 0 && ', '}
                <UnitLink unit={unit} />
              </span>
            ))}
      </p>
    </>
  );
}

function withoutTrail({ device, place }: Schemas['Device']): string {
  if (isUnnamed(device)) return 'It has no ledger of its own: what was done to it stands in the ledger of its board.';
  return place === null ? 'No place was ever told.' : 'Its ledger tells of no move.';
}

function UnitPlace({
  unit,
  refdes,
  how,
}: {
  readonly unit: string;
  readonly refdes: string | null;
  readonly how: string;
}) {
  return (
    <>
      {how}: <UnitLink unit={unit} />
      {refdes !== null && <span className="mono"> · {refdes}</span>}
    </>
  );
}

function UnitLink({ unit }: { readonly unit: string }) {
  const [assembly = '', serial = ''] = unit.split('/');
  return (
    <Link className="mono" href={paths.unit(assembly, serial)}>
      {assembly} / {serial}
    </Link>
  );
}
