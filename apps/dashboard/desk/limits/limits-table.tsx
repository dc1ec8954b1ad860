import { Link } from 'wouter';
import { dayOf } from '../floor/day-of.js';
import { Mark } from '../kit/marks.js';
import { useNow } from '../kit/when.js';
import { paths } from '../paths.js';
import { limitWords } from '../words/words.js';
import type { LimitRecord } from './limit-queries.js';
import { actionWords, allowedWords, LIMIT_KINDS, scopeWords } from './limit-words.js';
import { RecheckWords } from './recheck-words.js';

/** Limits by kind, each with its figure, whom it is for, and its source. */
export function LimitsTable({ limits }: { readonly limits: readonly LimitRecord[] }) {
  return (
    <div className="scroll-x" role="region" aria-label="Limits by kind" tabIndex={0}>
      <table className="rows limits-table">
        <thead>
          <tr>
            <th scope="col" className="limits-table__limit">
              Limit
            </th>
            <th scope="col">Allowed</th>
            <th scope="col">Beyond it</th>
            <th scope="col">Source</th>
            <th scope="col">Revision</th>
          </tr>
        </thead>
        {LIMIT_KINDS.map((kind) => (
          <tbody key={kind}>
            {limits
              .filter((limit) => limit.kind === kind)
              .map((limit) => (
                <LimitRow key={limit.name} limit={limit} />
              ))}
          </tbody>
        ))}
      </table>
    </div>
  );
}

function LimitRow({ limit }: { readonly limit: LimitRecord }) {
  const { name, kind, scope = {}, allowed, unit, action, source, recheck, countPossible } = limit;
  return (
    <tr>
      <th scope="row">
        <Link href={paths.limit(name)}>{limitWords(kind)}</Link>
        {name !== kind && <span className="limits-table__more mono">{name}</span>}
        <span className="limits-table__more">for {scopeWords(scope)}</span>
      </th>
      <td className="limits-table__allowed">
        {allowedWords(allowed, unit)}
        {countPossible === true && ', possible ones counted too'}
      </td>
      <td>{actionWords(action)}</td>
      <td className="limits-table__source">{source}</td>
      <td className="limits-table__revision">
        <InForceSince limit={limit} />
        {recheck.state !== 'none' && (
          <span className="limits-table__more">
            <RecheckWords recheck={recheck} />
          </span>
        )}
      </td>
    </tr>
  );
}

function InForceSince({ limit: { revision, recheck } }: { readonly limit: LimitRecord }) {
  const ahead = Date.parse(recheck.effectiveAt) > useNow();
  const day = dayOf(recheck.effectiveAt);
  return (
    <>
      {revision} {ahead ? <Mark tone="caution">not before {day}</Mark> : <span className="quiet">since {day}</span>}
    </>
  );
}
