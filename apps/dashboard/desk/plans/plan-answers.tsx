import { Mark } from '../kit/marks.js';
import { Tally } from '../kit/tally.js';
import type { TallyFigures } from '../kit/tally-cells.js';
import type { Schemas } from '../api/client.js';
import { methodWords } from '../words/words.js';
import { afterInWords, certaintyInWords, copperInWords, leadInWords } from './plan-figures.js';
import { planReasonWords } from './plan-words.js';

type Row = Schemas['PlanRow'];

/** So many more, and how the budget would stand then. */
export function Spent({ added, after }: { readonly added: number; readonly after: TallyFigures | undefined }) {
  if (after === undefined) return <strong>{added}</strong>;
  return (
    <span className="plan-spent">
      <span>
        <strong>{added}</strong> more
      </span>{' '}
      <Tally {...after} /> <span className="quiet">{afterInWords(after, added)}</span>
    </span>
  );
}

interface NeighboursProps {
  readonly neighbours: Row['excursions']['neighbours'];
  readonly gapMm: (neighbour: string) => number | undefined;
}

/** Each neighbour with how far it is, and what the heat does to it. */
export function Neighbours({ neighbours, gapMm }: NeighboursProps) {
  if (neighbours.length === 0) return 'none listed near it';
  return (
    <ul className="plan-list plan-list--close">
      {neighbours.map(({ refdes, counted, possible, fits }) => {
        const gap = gapMm(refdes);
        return (
          <li key={refdes}>
            <strong>{refdes}</strong>
            {gap !== undefined && <span className="quiet"> {gap} mm away</span>}: {reachedInWords(counted, possible)}{' '}
            {!fits && <Mark tone="stop">over its limit</Mark>}
          </li>
        );
      })}
    </ul>
  );
}

function reachedInWords(counted: number, possible: number): string {
  if (counted + possible === 0) return 'not reached';
  return [...(counted > 0 ? [`${counted} counted`] : []), ...(possible > 0 ? [`${possible} possible`] : [])].join(', ');
}

/** Copper that the pads would have afterwards, and the least that the house allows. */
export function Copper({ row, leastUm }: { readonly row: Row; readonly leastUm: number | undefined }) {
  const { copperLeftUm, copperCertainty } = row;
  return (
    <>
      <strong>{copperInWords(copperLeftUm)}</strong>
      {leastUm !== undefined && `, at least ${leastUm} µm allowed`}
      <span className="quiet"> ({certaintyInWords(copperCertainty)})</span>
    </>
  );
}

/** Lead that the finished joint would have, and the most that the house allows. */
export function Lead({ leadPct, mostPct }: { readonly leadPct: number | null; readonly mostPct: number | undefined }) {
  return (
    <>
      <strong>{leadInWords(leadPct)}</strong>
      {mostPct !== undefined && <span className="quiet"> at most {mostPct} wt% where it must be lead-free</span>}
    </>
  );
}

/** How the device loses its balls, and what the other ways would cost it. */
export function Deballing({ row: { deballing, deballingOptions } }: { readonly row: Row }) {
  if (deballing === undefined) return 'none: the device has none, or gets none';
  const others = deballingOptions.filter(({ method }) => method !== deballing);
  return (
    <>
      <strong>{methodWords(deballing)}</strong>
      <FoldedLines
        fold="Other ways"
        lines={others.map(
          ({ method, fits, deviceExcursions, minutes }) =>
            `${methodWords(method)}: device ${String(deviceExcursions)} in all, ${String(Math.round(minutes))} min, ${fits ? 'fits' : 'does not fit'}`,
        )}
      />
    </>
  );
}

/** The skill that the dressing takes, and who has every skill of the route today. */
export function Skill({ row: { skill, qualifiedOperators, missingSkills } }: { readonly row: Row }) {
  return (
    <>
      {qualifiedOperators.length === 0 ? (
        <Mark tone="caution">nobody today</Mark>
      ) : (
        <span className="plan-names">
          {qualifiedOperators.map((name) => (
            <span key={name}>{name}</span>
          ))}
        </span>
      )}
      <div className="quiet">
        takes {skill}
        {missingSkills.length > 0 && `; nobody has ${missingSkills.join(', ')}`}
      </div>
    </>
  );
}

/** What stands against a route: what stops it first, each with its way out. */
export function Reasons({ reasons }: { readonly reasons: readonly Schemas['PlanReason'][] }) {
  if (reasons.length === 0) return 'nothing';
  return (
    <ul className="plan-list">
      {reasons
        .toSorted((one, other) => Number(other.blocks) - Number(one.blocks))
        .map(({ code, subject, blocks, detail, remedy }) => (
          <li key={code + subject.name}>
            <Mark tone={blocks ? 'stop' : 'caution'}>{subject.name}</Mark> <strong>{planReasonWords(code)}.</strong>{' '}
            {withoutCode(detail, code, subject.name)} <span className="quiet">Way out: {remedy}</span>
          </li>
        ))}
    </ul>
  );
}

/** What the API says after the words that stand before it here already. */
function withoutCode(detail: string, code: string, name: string): string {
  const said = `${code} of ${name}: `;
  return detail.startsWith(said) ? detail.slice(said.length) : detail;
}

export function Lines({ lines }: { readonly lines: readonly string[] }) {
  if (lines.length === 0) return 'nothing';
  return (
    <ul className="plan-list">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** Lines that are there for who asks. */
export function FoldedLines({ fold, lines }: { readonly fold: string; readonly lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <details>
      <summary>
        {fold} ({lines.length})
      </summary>
      <Lines lines={lines} />
    </details>
  );
}
