import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { unitStateWords } from './site-words.js';

export function UnitListRow({ row }: { readonly row: Schemas['UnitRow'] }) {
  const { assembly, serial, customer, state, openHolds, changedAt } = row;
  return (
    <div className="unit-list__row">
      <Link className="mono" href={paths.unit(assembly, serial)}>
        {assembly} / {serial}
      </Link>
      <span>{customer}</span>
      <span>{unitStateWords(state)}</span>
      <span>
        {openHolds === 0 ? (
          <span className="quiet">none</span>
        ) : (
          <Mark tone="stop">{openHolds === 1 ? '1 open hold' : `${openHolds} open holds`}</Mark>
        )}
      </span>
      <span className="quiet">
        <Ago at={changedAt} />
      </span>
    </div>
  );
}
