import type { ReactNode } from 'react';
import { DAMAGE_GROUPS } from './damage-groups.js';
import type { DamageRate, DamageRates } from './damage-queries.js';
import { DamageVerdict } from './damage-verdict.js';
import { byWeight, pctOf, percent, scaleEnd, ticksTo } from './rate-scale.js';
import { RateWhisker } from './rate-whisker.js';
import './damage-table.css';

/** Damage rates by group, all drawn on one scale, each with its figures beside it. */
export function DamageTable({ rates: { rates, houseRate } }: { readonly rates: DamageRates }) {
  const end = scaleEnd(rates, houseRate);
  return (
    <div className="scroll-x" role="region" aria-label="Damage rates" tabIndex={0}>
      <table className="rows damage-table">
        <thead>
          <tr>
            <th scope="col">Group</th>
            <th scope="col" className="number">
              Damaged of sites
            </th>
            <th scope="col" className="damage-table__drawn">
              <Scale end={end} houseRate={houseRate} />
            </th>
            <th scope="col" className="number">
              Rate
            </th>
            <th scope="col">95 % interval</th>
            <th scope="col">Beside the house rate</th>
          </tr>
        </thead>
        {DAMAGE_GROUPS.map(({ by, title, nameOf }) => (
          <Group
            key={by}
            title={title}
            rates={rates.filter((rate) => rate.by === by).toSorted(byWeight)}
            row={(rate) => <Row key={rate.name} rate={rate} name={nameOf(rate.name)} end={end} houseRate={houseRate} />}
          />
        ))}
      </table>
    </div>
  );
}

interface GroupProps {
  readonly title: string;
  readonly rates: readonly DamageRate[];
  readonly row: (rate: DamageRate) => ReactNode;
}

function Group({ title, rates, row }: GroupProps) {
  if (rates.length === 0) return null;
  return (
    <tbody>
      <tr className="damage-table__group">
        <th scope="rowgroup" colSpan={6}>
          {title}
        </th>
      </tr>
      {rates.map(row)}
    </tbody>
  );
}

interface RowProps {
  readonly rate: DamageRate;
  readonly name: ReactNode;
  readonly end: number;
  readonly houseRate: number | null;
}

function Row({ rate, name, end, houseRate }: RowProps) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td className="number">
        {rate.damaged} of {rate.sites}
      </td>
      <td className="damage-table__drawn">
        <RateWhisker rate={rate} end={end} houseRate={houseRate} />
      </td>
      <td className="number">{percent(rate.rate)}</td>
      <td>
        {percent(rate.interval.low)} to {percent(rate.interval.high)}
      </td>
      <td>
        <DamageVerdict rate={rate} />
      </td>
    </tr>
  );
}

/** The scale over the drawings, with the house's rate on it. */
function Scale({ end, houseRate }: { readonly end: number; readonly houseRate: number | null }) {
  return (
    <span className="damage-table__scale">
      <span className="unseen">Share damaged, drawn from 0 to {percent(end)}</span>
      {ticksTo(end).map((tick) => (
        <span key={tick} aria-hidden="true" className="damage-table__tick" style={{ left: `${pctOf(tick, end)}%` }}>
          {Math.round(100 * tick)} %
        </span>
      ))}
      {houseRate !== null && (
        <span aria-hidden="true" className="damage-table__house" style={{ left: `${pctOf(houseRate, end)}%` }}>
          house {percent(houseRate)}
        </span>
      )}
    </span>
  );
}
