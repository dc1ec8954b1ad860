import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { basisWords } from '../words/words.js';

interface DeviceHeatsProps {
  readonly counted: readonly Schemas['Count'][];
  readonly possible: readonly Schemas['Count'][];
  /** What it had seen before the book knew it. */
  readonly prior: Schemas['Budget']['inputs']['prior'] | undefined;
}

/** The heats that a device has seen, with the verdict on each. */
export function DeviceHeats({ counted, possible, prior }: DeviceHeatsProps) {
  const heats = [
    ...counted.map((count) => ({ count, certain: true })),
    ...possible.map((count) => ({ count, certain: false })),
  ].toSorted((one, other) => Date.parse(one.count.at) - Date.parse(other.count.at));
  if (heats.length === 0 && prior === undefined) return <p className="quiet">None since the book knows it.</p>;
  return (
    <div className="scroll-x" role="region" aria-label="Table of excursions" tabIndex={0}>
      <table className="rows">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Verdict</th>
            <th scope="col">By what</th>
            <th scope="col">Where</th>
          </tr>
        </thead>
        <tbody>
          {prior !== undefined && <PriorRow prior={prior} />}
          {heats.map(({ count: { at, basis, why, unit, refdes, event }, certain }) => (
            <tr key={`${event.source} ${event.id} ${String(certain)}`}>
              <td>
                <When at={at} />
              </td>
              <td>{certain ? <Mark>counted</Mark> : <Mark tone="caution">possible</Mark>}</td>
              <td>
                {why} <span className="quiet">({basisWords(basis)})</span>
              </td>
              <td>{unit === undefined ? 'loose' : <Place unit={unit} refdes={refdes} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function PriorRow({ prior: { count, basis } }: { readonly prior: Schemas['Budget']['inputs']['prior'] }) {
  return (
    <tr>
      <td>before the book</td>
      <td>{basis === 'unknown' ? <Mark tone="caution">not known</Mark> : <Mark>{count} counted</Mark>}</td>
      <td>
        {basis === 'unknown'
          ? 'nobody declared what it had seen; nothing is counted for it'
          : 'what it had seen when it came'}{' '}
        <span className="quiet">({basisWords(basis)})</span>
      </td>
      <td />
    </tr>
  );
}

function Place({ unit, refdes }: { readonly unit: string; readonly refdes: string | undefined }) {
  const [assembly = '', serial = ''] = unit.split('/');
  return (
    <Link className="mono" href={paths.unit(assembly, serial)}>
      {assembly} / {serial}
      {refdes !== undefined && ` · ${refdes}`}
    </Link>
  );
}
