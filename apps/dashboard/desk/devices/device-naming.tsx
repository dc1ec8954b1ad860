import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { paths } from '../paths.js';
import './device-naming.css';

/** Why a device is called after a place, or what it is called since its label was read. */
export function DeviceNaming({ device: { knownAs } }: { readonly device: Schemas['Device'] }) {
  return (
    <p className="device-naming">
      {knownAs === null ? (
        'Nobody has read the label of this device yet, so it is called after the place it came on. A removal or a receipt that names it gives it its own name, and what it has spent goes with it.'
      ) : (
        <>
          Its label was read: it is <Link href={paths.device(knownAs)}>{knownAs}</Link>, and everything it had spent
          went along.
        </>
      )}
    </p>
  );
}
