import { Link } from 'wouter';
import { Empty } from '../kit/states.js';
import { paths } from '../paths.js';
import { useSession } from '../session/session-gate.js';

/** Nothing is named so, with what was looked through and what else one could do. */
export function NothingFound({ asked }: { readonly asked: string }) {
  const { customer } = useSession();
  return (
    <Empty title={`Nothing is named ${asked}, or begins so.`}>
      <p>
        {customer === undefined
          ? 'Looked through: serials, “assembly serial”, assemblies, devices, stations, operators, profiles and the ids of holds, as typed and in capitals.'
          : `Looked through: serials, assemblies and ids of holds of ${customer}, as typed and in capitals.`}
      </p>
      <p>
        A label may carry more than the serial: type the beginning of the serial alone, or go through{' '}
        <Link href={paths.units}>all units</Link>. A board is here from its first event on.
      </p>
    </Empty>
  );
}
